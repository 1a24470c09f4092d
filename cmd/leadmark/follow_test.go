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

	"leadmark/calib"
)

// safeBuffer may be written and read at once.
type safeBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *safeBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *safeBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// waitFor waits until a condition holds, 20 s at most.
func waitFor(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if holds() {
			return
		}
	}
	t.Fatalf("waited in vain for %s", what)
}

// Frames that are written in two pieces are read once they are whole, and in the end the run tells what calibrate tells of
// the finished folder.
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
	var out, said safeBuffer
	done := make(chan error, 1)
	go func() { done <- run(ctx, []string{"calibrate", dir, "--follow"}, &out, &said) }()
	for _, f := range want.Frames {
		copyFile(t, from, dir, f.File, 0.4)
		time.Sleep(60 * time.Millisecond)
		if strings.Contains(out.String(), f.File+": read") || strings.Contains(out.String(), f.File+": refused") {
			t.Errorf("%s was told before it was whole", f.File)
		}
		copyFile(t, from, dir, f.File, 1)
	}
	last := want.Frames[len(want.Frames)-1].File
	waitFor(t, "the last frame", func() bool { return strings.Contains(out.String(), last+": re") })
	waitFor(t, "its result", func() bool {
		_, rest, _ := strings.Cut(out.String(), last+": re")
		return strings.Contains(rest, "This rig fires")
	})
	time.Sleep(500 * time.Millisecond)
	stop()
	if err := <-done; err != nil {
		t.Fatalf("%v\n%s", err, said.String())
	}
	text, err := os.ReadFile(dir + "-report/result.json")
	if err != nil {
		t.Fatal(err)
	}
	got, err := calib.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	if got.Lag == nil || math.Abs(got.Lag.ValueMS-want.Lag.ValueMS) > 0.1*want.Lag.UMS || math.Abs(got.Lag.UMS/want.Lag.UMS-1) > 0.1 {
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
