package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"

	"leadmark/scripts/claim"
	"leadmark/vision/synth/runs"
)

// What docs/files.md promises of calibrating 24 megapixels.
const (
	mostToDecoding = 3.5  // times the processor time of djpeg
	mostMemory     = 1024 // MB
)

// calibrate times leadmark calibrate over frames of which nothing is remembered against decoding
// the same files.
func (o options) calibrate(s *claim.Study) error {
	n, rounds := orElse(o.frames, 40), orElse(o.turns, 7)
	run, files, decode, err := o.besideDecoding(fmt.Sprintf("run%d", n), func(dir string) error {
		_, err := runs.WriteRun(dir, benchRun(n))
		return err
	})
	if err != nil {
		return err
	}
	fmt.Printf("calibrate: %d frames of 24 megapixels, %d processors\n", len(files), runtime.NumCPU())
	var read, again []float64
	t, err := turnAbout(rounds, func() (took, error) {
		first, share, err := o.calibrated(run, len(files))
		if err != nil {
			return first, err
		}
		second, _, err := o.reckon(run, len(files))
		read, again = append(read, share), append(again, second.cpu/first.cpu)
		return first, err
	}, decode)
	if err != nil {
		return err
	}
	show("by the clock, calibrate to djpeg", t.ratio(clock))
	show("the same again, to the first time", claim.Quantile(0.5, again))
	s.Hold("calibrate to djpeg, processor time", t.ratio(cpu), claim.AtMost(mostToDecoding))
	s.Hold("memory of calibrate, at most", most(t.a, peak).In("MB", 1), claim.AtMost(mostMemory))
	s.Hold("frames read, in the worst turn", claim.Quantile(0, read), claim.AtLeast(0.95))
	return nil
}

// besideDecoding has a run drawn into a folder below that of the frames, once, and names it, its frames, and
// the side that decodes them in grey.
func (o options) besideDecoding(name string, draw func(dir string) error) (run string, files []string, decode side,
	err error) {
	if run, err = filepath.Abs(filepath.Join(o.dir, name)); err != nil {
		return run, nil, nil, err
	}
	if err = once(run, draw); err != nil {
		return run, nil, nil, err
	}
	if files, err = pictures(run); err != nil {
		return run, nil, nil, err
	}
	decode, err = o.decoding(files, "-grayscale")
	return run, files, decode, err
}

// calibrated calibrates a run of n frames of which nothing is remembered, and says which share was
// read. Each frame must have been looked at: the folder beside holds what was seen, an entry or more
// (looks with other hints) for each different file, and no entry for one that was remembered.
func (o options) calibrated(run string, n int) (took, float64, error) {
	seen := seenOf(run)
	if err := errors.Join(os.RemoveAll(seen), os.RemoveAll(run+"-report")); err != nil {
		return took{}, 0, err
	}
	t, share, err := o.reckon(run, n)
	if err != nil {
		return t, share, err
	}
	looked, err := lookedAt(seen)
	if err == nil && looked < n {
		err = fmt.Errorf("%s: only %d different frames were looked at of %d", run, looked, n)
	}
	return t, share, err
}

// seenOf is the folder in which what was seen in a run's frames is remembered.
func seenOf(run string) string {
	return filepath.Join(filepath.Dir(run), "."+filepath.Base(run)+".seen")
}

// lookedAt counts the looks in the folder of what was seen.
func lookedAt(seen string) (n int, err error) {
	all, err := os.ReadDir(seen)
	for _, e := range all {
		if name := e.Name(); !strings.Contains(name, "-clips") && !strings.HasPrefix(name, "index") {
			n++
		}
	}
	return n, err
}

// reckon calibrates a run of n frames and says which share was read.
func (o options) reckon(run string, n int) (took, float64, error) {
	t, said, err := timed(exec.Command(o.program, "calibrate", run, "--out", run+"-report", "--rigs",
		filepath.Join(o.dir, "rigs")))
	if err != nil && bytes.Contains(said, fmt.Appendf(nil, "none of %d frames could be used", n)) {
		return t, 0, nil // that is the answer, and takes looking at all of them
	}
	if err != nil {
		return t, 0, err
	}
	share, err := shareOf(filepath.Join(run+"-report", "result.json"), n, "read")
	return t, share, err
}

// shareOf is the share of frames with a status in a document, which must hold n.
func shareOf(path string, n int, status string) (float64, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return 0, err
	}
	var d struct {
		Frames []struct{ Status string }
	}
	if err := json.Unmarshal(text, &d); err != nil {
		return 0, fmt.Errorf("%s: %w", path, err)
	}
	if len(d.Frames) != n {
		return 0, fmt.Errorf("%s holds %d frames, not %d", path, len(d.Frames), n)
	}
	k := 0
	for _, f := range d.Frames {
		if f.Status == status {
			k++
		}
	}
	return float64(k) / float64(n), nil
}

// pictures are the frames of a folder, read once, so that all come from memory and not from the disk.
func pictures(dir string) ([]string, error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.JPG"))
	if err == nil && len(files) == 0 {
		err = fmt.Errorf("no frames in %s", dir)
	}
	for _, f := range files {
		if _, err := os.ReadFile(f); err != nil {
			return nil, err
		}
	}
	return files, err
}

func orElse(n, own int) int {
	if n > 0 {
		return n
	}
	return own
}
