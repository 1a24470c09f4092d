package main

import (
	"bytes"
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"leadmark/calib/follow"
	"leadmark/calib/record"
)

// safeBuffer may be written and read at once.
type safeBuffer struct {
	mu    sync.Mutex
	b     bytes.Buffer
	wrote chan struct{} // closed at the next Write
}

func (s *safeBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.wrote != nil {
		close(s.wrote)
		s.wrote = nil
	}
	return s.b.Write(p)
}

func (s *safeBuffer) String() string {
	text, _ := s.read()
	return text
}

// read is what was written so far, and a channel that is closed when there is more.
func (s *safeBuffer) read() (string, <-chan struct{}) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.wrote == nil {
		s.wrote = make(chan struct{})
	}
	return s.b.String(), s.wrote
}

// await waits until what was written meets a condition.
func (s *safeBuffer) await(t *testing.T, what string, holds func(text string) bool) {
	t.Helper()
	for {
		text, more := s.read()
		if holds(text) {
			return
		}
		select {
		case <-more:
		case <-time.After(patience):
			t.Fatalf("waited in vain for %s; there is:\n%s", what, text)
		}
	}
}

// followTest is a run that is followed under a test's clock.
type followTest struct {
	ticks chan time.Time
	now   time.Time
	told  chan int // of each result, how many frames it is of
	out   safeBuffer
}

// tick has the folder looked at, so much later that all that is in it is listed.
func (f *followTest) tick(t *testing.T) {
	t.Helper()
	f.now = f.now.Add(1100 * time.Millisecond)
	select {
	case f.ticks <- f.now:
	case <-time.After(patience):
		t.Fatalf("the folder is no longer looked at:\n%s", f.out.String())
	}
}

// following has the test's clock say when to look, and hears what is told.
func (f *followTest) following(ctx context.Context, dir string, o follow.Options) error {
	tell := o.Tell
	o.Ticks = f.ticks
	o.Tell = func(e follow.Event) {
		tell(e)
		if e.Result != nil {
			f.told <- len(e.Result.Frames)
		}
	}
	return follow.Follow(ctx, dir, o)
}

// awaitResult waits for the result of so many frames.
func (f *followTest) awaitResult(t *testing.T, frames int) {
	t.Helper()
	for {
		select {
		case n := <-f.told:
			if n == frames {
				return
			}
		case <-time.After(patience):
			t.Fatalf("waited in vain for the result of %d frames:\n%s", frames, f.out.String())
		}
	}
}

// Frames that are written in two pieces are read once they are whole, and in the end the run tells
// what calibrate tells of the finished folder.
func TestFollowReadsARunWhileItIsCopied(t *testing.T) {
	from := smallRun(t, 5)
	want := resultOf(t, from)
	dir := t.TempDir() + "/live"
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	copyFile(t, from, dir, "run.toml", 1)
	copyFile(t, from, dir, "shots.csv", 1)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	f := &followTest{ticks: make(chan time.Time), told: make(chan int, 100)}
	var said safeBuffer
	a := newApp(&f.out, &said)
	a.Following = f.following
	done := make(chan error, 1)
	go func() { done <- a.run(ctx, []string{"calibrate", dir, "--follow"}) }()
	for _, frame := range want.Frames {
		copyFile(t, from, dir, frame.File, 0.4)
		f.tick(t)
		f.out.await(t, "a frame seen being written",
			func(text string) bool { return strings.Contains(text, frame.File+": being written") })
		if text := f.out.String(); strings.Contains(text, frame.File+": read") ||
			strings.Contains(text, frame.File+": refused") {
			t.Errorf("%s was told before it was whole", frame.File)
		}
		copyFile(t, from, dir, frame.File, 1)
		f.tick(t)
		f.out.await(t, "the frame", func(text string) bool { return strings.Contains(text, frame.File+": re") })
	}
	f.awaitResult(t, len(want.Frames))
	if !strings.Contains(f.out.String(), "This rig fires") {
		t.Errorf("the lag was not told:\n%s", f.out.String())
	}
	stop()
	if err := <-done; err != nil {
		t.Fatalf("%v\n%s", err, said.String())
	}
	text, err := os.ReadFile(dir + "-report/result.json")
	if err != nil {
		t.Fatal(err)
	}
	got, err := record.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	if got.Lag == nil || math.Abs(got.Lag.ValueMS-want.Lag.ValueMS) > 0.1*want.Lag.UMS ||
		math.Abs(got.Lag.UMS/want.Lag.UMS-1) > 0.1 {
		t.Errorf("lag followed %+v, of the finished folder %+v", got.Lag, want.Lag)
	}
	for i, f := range got.Frames {
		if f.Status != want.Frames[i].Status {
			t.Errorf("%s: %s, else %s", f.File, f.Status, want.Frames[i].Status)
		}
	}
	if again := resultOf(t, dir); again.Lag.ValueMS != got.Lag.ValueMS {
		t.Errorf("calibrate afterwards: %v ms, followed %v ms", again.Lag.ValueMS, got.Lag.ValueMS)
	}
}

// copyFile copies the first part of a file.
func copyFile(t *testing.T, from, to, name string, part float64) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(from, name))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(to, name), data[:int(part*float64(len(data)))], 0o666); err != nil {
		t.Fatal(err)
	}
}
