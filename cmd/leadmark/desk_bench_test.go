package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"testing"
	"time"

	"leadmark/scripts/claim"
	"leadmark/vision/synth/runs"
)

// The measures of the desk that take minutes: scripts/deskbench runs them, once each. What they claim
// they hold themselves.

// another is a picture with other bytes that shows the same: a comment is put in behind its first
// marker (T.81, B.2.4.5).
func another(data []byte, n int) []byte {
	text := fmt.Appendf(nil, "copy %d", n)
	segment := binary.BigEndian.AppendUint16([]byte{0xFF, 0xFE}, uint16(len(text)+2))
	return slices.Concat(data[:2], segment, text, data[2:])
}

// drawnFrames draws frames of a size and returns their bytes.
func drawnFrames(t testing.TB, width, height, shots int) (run []byte, frames [][]byte) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "drawn")
	r := runs.DemoRun(5)
	r.Drops, r.Shots, r.Odd = []float64{0.1, 0.4}, shots, nil
	r.Width, r.Height = width, height
	if _, err := runs.WriteRun(dir, r); err != nil {
		t.Fatal(err)
	}
	paths, err := filepath.Glob(dir + "/*.JPG")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range paths {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		frames = append(frames, data)
	}
	run, err = os.ReadFile(dir + "/run.toml")
	if err != nil {
		t.Fatal(err)
	}
	return append(run, "drop_mm = 400\n"...), frames
}

// startPeer starts the desk as a process of its own, and returns its address and the process.
func startPeer(t testing.TB, folder string) (string, *exec.Cmd) {
	t.Helper()
	leadmark, err := linkToSelf(t)
	if err != nil {
		t.Fatal(err)
	}
	d := startKilled(t, leadmark, folder, t.TempDir())
	t.Cleanup(func() { _ = d.c.Process.Kill(); _ = d.c.Wait() })
	return d.url, d.c
}

// BenchmarkDeskLatency measures from a frame's last byte on the disk to its reading on the page,
// beside leadmark read of the same frame: 40 frames of 24 megapixels, a pair each, one after the
// other.
func BenchmarkDeskLatency(t *testing.B) {
	ctx := startBrowser(t)
	run, frames := drawnFrames(t, 6000, 4000, 4)
	nights := t.TempDir()
	dir := filepath.Join(nights, "live")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(dir+"/run.toml", run, 0o666); err != nil {
		t.Fatal(err)
	}
	url, c := startPeer(t, nights)
	b := browser{ctx: ctx, desk: url}
	tab := b.tab(t, "/run/live", 1440, 900)
	value[int](t, tab,
		`(() => { window.seen = {}; new MutationObserver(() => { for (const li of document.querySelectorAll("#tiles > li")) if (!(li.dataset.file in seen)) seen[li.dataset.file] = performance.timeOrigin + performance.now(); }).observe(document.getElementById("tiles"), {childList: true}); return 1; })()`)
	leadmark := c.Path
	const frameCount = 40
	var took, read, share []float64
	for i := range frameCount + 4 {
		name := fmt.Sprintf("IMG_%04d.JPG", i+1)
		data := another(frames[i%len(frames)], i)
		alone := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(alone, data, 0o666); err != nil {
			t.Fatal(err)
		}
		begun := time.Now()
		if out, err := exec.Command(leadmark, "read", alone, "--graduation-mm", "1").CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		alonems := float64(time.Since(begun).Microseconds()) / 1e3
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o666); err != nil {
			t.Fatal(err)
		}
		last := float64(time.Now().UnixMicro()) / 1e3
		until(t, tab, name, fmt.Sprintf("seen[%q]", name))
		ms := value[float64](t, tab, fmt.Sprintf("seen[%q]", name)) - last
		time.Sleep(time.Second) // the result of the whole comes too; at a set seconds lie between shots
		if i < 4 {
			continue // the first few are searched everywhere
		}
		took, read, share = append(took, ms), append(read, alonems), append(share, ms/alonems)
	}
	t.Logf("frames of 24 megapixels, %.1f MB: server memory at most %s", float64(len(frames[0]))/1e6, mostMemory(c))
	t.ReportMetric(claim.Quantile(0.5, took).Value, "ms-to-the-page")
	t.ReportMetric(claim.Quantile(0.5, read).Value, "ms-to-read")
	var s claim.Study
	s.Hold("from a frame's last byte to the page, to leadmark read", claim.Quantile(0.5, share), claim.AtMost(0.5))
	s.Held(t)
}

// mostMemory is the most memory a process held, where the system tells.
func mostMemory(c *exec.Cmd) string {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", c.Process.Pid))
	if err != nil {
		return "unknown"
	}
	m := regexp.MustCompile(`VmHWM:\s+(\d+) kB`).FindSubmatch(text)
	if m == nil {
		return "unknown"
	}
	kb, _ := strconv.Atoi(string(bytes.TrimSpace(m[1])))
	return fmt.Sprintf("%d MB", kb/1024)
}

// BenchmarkDeskScroll scrolls a run of 1,000 frames from end to end and counts the frames drawn.
func BenchmarkDeskScroll(t *testing.B) {
	ctx := startBrowser(t)
	run, frames := drawnFrames(t, 1088, 725, 4) // small ones: a thousand are to be read first
	nights := t.TempDir()
	dir := filepath.Join(nights, "long")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(dir+"/run.toml", run, 0o666); err != nil {
		t.Fatal(err)
	}
	for i := range 1000 {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("IMG_%04d.JPG", i+1)),
			another(frames[i%len(frames)], i), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	url, c := startPeer(t, nights)
	b := browser{ctx: ctx, desk: url}
	tab := b.tab(t, "/run/long", 1440, 900)
	begun := time.Now()
	untilWithin(t, tab, time.Hour, "all frames",
		`document.querySelectorAll("#tiles > li").length === 1000 && document.getElementById("lag").textContent.length > 0 && document.getElementById("count").textContent.startsWith("1000")`)
	t.Logf("1,000 frames read and shown after %.0f s", time.Since(begun).Seconds())
	time.Sleep(5 * time.Second) // its result
	fresh := time.Now()
	again := b.tab(t, "/run/long", 1440, 900)
	until(t, again, "all frames", `document.querySelectorAll("#tiles > li").length === 1000`)
	t.Logf("the page with 1,000 frames opens in %.2f s", time.Since(fresh).Seconds())
	gaps := value[[]float64](t, again,
		`new Promise((done) => { const gaps = []; let last = performance.now(), end = last + 10000; scrollTo(0, document.getElementById("tiles").offsetTop); const step = (t) => { gaps.push(t - last); last = t; scrollBy(0, 40); if (t < end) requestAnimationFrame(step); else done(gaps); }; requestAnimationFrame(step); })`)
	late := 0
	for _, g := range gaps[1:] {
		if g > 21 {
			late++
		}
	}
	t.Logf("scrolling: %d of %d gaps longer than 21 ms, the longest %.0f ms; server memory at most %s", late,
		len(gaps)-1, slices.Max(gaps[1:]), mostMemory(c))
	var s claim.Study
	s.Hold("between two pictures of a page that scrolls, on average", claim.Mean(gaps[1:]).In("ms", 1), claim.AtMost(20))
	s.Held(t)
}
