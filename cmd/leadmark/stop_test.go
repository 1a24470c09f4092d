package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// changes lists what of a folder is not as it was before, but for hidden files.
func changes(before, now map[string]os.FileInfo) []string {
	var all []string
	for path, info := range now {
		if old, was := before[path]; (!was || !os.SameFile(old, info)) && !strings.Contains(path, "/.") {
			all = append(all, path)
		}
	}
	return all
}

// filesIn lists the files of a folder and those below.
func filesIn(dir string) map[string]os.FileInfo {
	all := map[string]os.FileInfo{}
	_ = filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return nil
		}
		if info, err := e.Info(); err == nil {
			all[path] = info
		}
		return nil
	})
	return all
}

// named counts the changed files of a name's pattern.
func named(files []string, pattern string) int {
	n := 0
	for _, f := range files {
		if ok, _ := filepath.Match(pattern, filepath.Base(f)); ok {
			n++
		}
	}
	return n
}

// A check that is stopped after any of its steps says what is written, and writes nothing more.
func TestCheckStoppedAfterEachStep(t *testing.T) {
	drawn := t.TempDir()
	drawShoot(t, drawn, 5)
	// in the midst and at the end of cut-outs, sheet, ratings, subject; never
	for _, k := range []int{1, 3, 5, 6, 7, 10, 11, 99} {
		dir := t.TempDir()
		frames, cuts := filepath.Join(dir, "bees"), filepath.Join(dir, "100%d cuts")
		if err := os.CopyFS(frames, os.DirFS(drawn)); err != nil {
			t.Fatal(err)
		}
		before := filesIn(dir)
		var out, stderr bytes.Buffer
		ctx, stop := context.WithCancel(context.Background())
		a := newApp(&out, &stderr)
		steps := 0
		a.Written.Noted = func() {
			if steps++; steps == k {
				stop()
			}
		}
		err := a.run(ctx, []string{"check", frames, "--lag-ms", "52", "--spread-ms", "0.5", "--learn", "--xmp",
			"--cutouts", cuts})
		stop()
		changed := changes(before, filesIn(dir))
		if err == nil {
			if steps > k || len(changed) < 12 || k < 12 {
				t.Errorf("it ended by itself after %d steps, to be stopped after %d: %v", steps, k, changed)
			}
			continue
		}
		if !errors.Is(err, context.Canceled) {
			t.Fatal(err)
		}
		var want []string
		count := func(pattern, one, many, where string) {
			switch n := named(changed, pattern); {
			case n == 1:
				want = append(want, one+where)
			case n > 1:
				want = append(want, fmt.Sprint(n, " ", many, where))
			}
		}
		count("*-cutout.png", "1 cut-out", "cut-outs", " in "+cuts)
		count("contact.html", "the contact sheet in "+frames+"-check", "", "")
		count("*.xmp", "1 rating", "ratings", " beside the frames in "+frames)
		count("bee-learned.toml", "the learned subject "+filepath.Join(frames, "bee-learned.toml"), "", "")
		if text := "stopped before the end; written before that: " + strings.Join(want, ", ") +
			"; nothing else was changed"; err.Error() != text || exitStatus(err) != statusNone {
			t.Errorf("after %d steps:\n%v\n%s\n%v", k, err, text, changed)
		}
		if steps > k {
			t.Errorf("%d steps after the stop", steps-k)
		}
	}
}

// Cut-outs that are there are found before anything is written.
func TestCheckFindsCutoutsFirst(t *testing.T) {
	dir := t.TempDir()
	frames, cuts := filepath.Join(dir, "bees"), filepath.Join(dir, "cuts")
	for _, d := range []string{frames, cuts} {
		if err := os.Mkdir(d, 0o777); err != nil {
			t.Fatal(err)
		}
	}
	drawShoot(t, frames, 3)
	writeFile(t, filepath.Join(cuts, "IMG_0003-cutout.png"), []byte("mine"))
	before := filesIn(dir)
	var out, stderr bytes.Buffer
	err := newApp(&out, &stderr).run(context.Background(),
		[]string{"check", frames, "--lag-ms", "52", "--spread-ms", "0.5", "--xmp", "--cutouts", cuts})
	if err == nil || !strings.Contains(err.Error(), "IMG_0003-cutout.png: is there already") {
		t.Error(err)
	}
	if changed := changes(before, filesIn(dir)); len(changed) > 0 {
		t.Errorf("written: %v", changed)
	}
}

// supervised runs a command whose look at a frame never returns, and hands out what tells it to stop.
type supervised struct {
	signals chan os.Signal
	grace   chan time.Time
	looking chan struct{} // receives when a look begins
	status  chan int
	stderr  bytes.Buffer
	app     *app
}

func supervise(t *testing.T, args ...string) *supervised {
	t.Helper()
	s := &supervised{signals: make(chan os.Signal), grace: make(chan time.Time),
		looking: make(chan struct{}, 100), status: make(chan int, 1)}
	never := make(chan struct{})
	t.Cleanup(func() { close(never) })
	s.app = newApp(new(bytes.Buffer), &s.stderr)
	s.app.grace = func() <-chan time.Time { return s.grace }
	s.app.Look = func(context.Context, frame.Frame, ruler.Hint) (ruler.Sighting, error) {
		s.looking <- struct{}{}
		<-never
		return ruler.Sighting{}, errors.New("the test is over")
	}
	go func() { s.status <- s.app.supervise(args, s.signals) }()
	return s
}

// hungRun is a run of small frames with a rig.
func hungRun(t *testing.T) {
	t.Helper()
	root := t.TempDir()
	t.Chdir(root)
	t.Setenv("LEADMARK_RIGS", filepath.Join(root, "rigs"))
	writeFrames(t)
}

const stoppedText = "error: stopped before the end; nothing was changed\n"

// A command that does not return after a signal is ended when its time is up, with the same words
// and status.
func TestStopsWhatDoesNotReturn(t *testing.T) {
	for _, sig := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		hungRun(t)
		s := supervise(t, "calibrate", "night1", "--workers", "1")
		<-s.looking
		s.signals <- sig
		s.grace <- time.Time{}
		if status := <-s.status; status != statusNone || s.stderr.String() != stoppedText {
			t.Errorf("%v: status %d, %s", sig, status, &s.stderr)
		}
		if n := len(s.looking); n > 0 {
			t.Errorf("%d frames were looked at after the signal", n)
		}
		if entries, _ := filepath.Glob("[^.]*"); len(entries) != 1 {
			t.Errorf("left behind: %v", entries)
		}
	}
}

// A second signal does not wait.
func TestSecondSignalEndsAtOnce(t *testing.T) {
	hungRun(t)
	s := supervise(t, "calibrate", "night1")
	<-s.looking
	s.signals <- os.Interrupt
	s.signals <- os.Interrupt
	if status := <-s.status; status != statusNone || s.stderr.String() != stoppedText {
		t.Errorf("status %d, %s", status, &s.stderr)
	}
}

// A run that is followed takes the first signal as its end, and the next one as a stop.
func TestFollowIsStoppedByTheSecondSignal(t *testing.T) {
	hungRun(t)
	s := supervise(t, "calibrate", "night1", "--follow")
	<-s.looking
	s.signals <- os.Interrupt
	select {
	case s.grace <- time.Time{}:
		t.Error("its end is not waited for")
	case s.signals <- os.Interrupt:
	}
	s.grace <- time.Time{}
	if status := <-s.status; status != statusNone || s.stderr.String() != stoppedText {
		t.Errorf("status %d, %s", status, &s.stderr)
	}
}

// A command that ends by itself is not stopped.
func TestEndsByItself(t *testing.T) {
	hungRun(t)
	s := supervise(t, "rig", "list")
	if status := <-s.status; status != statusResult {
		t.Errorf("status %d, %s", status, &s.stderr)
	}
}

// An error after a part was written tells that part.
func TestWrittenBeforeAnError(t *testing.T) {
	var out, stderr bytes.Buffer
	a := newApp(&out, &stderr)
	_ = a.Written.File("a.csv", func() error { return nil })
	if status := a.finish(errors.New("b.csv: disk full")); status != statusNone ||
		stderr.String() != "error: b.csv: disk full\nnote: written before that: a.csv\n" {
		t.Errorf("status %d, %s", status, &stderr)
	}
}
