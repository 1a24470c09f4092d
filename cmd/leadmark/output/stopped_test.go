package output

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// What is being written when the time is up may be old or new, and nothing is begun after that.
func TestEndedWhileWriting(t *testing.T) {
	var w Ledger
	if err := w.File("a.csv", func() error { return nil }); err != nil {
		t.Fatal(err)
	}
	_ = w.Step(Kind{"1 rating", "ratings", " in x"}, "b", func() (int, error) { return 1, errors.New("disk full") })
	part := filepath.Join(t.TempDir(), "new", "part")
	if err := w.Make(part); err != nil {
		t.Fatal(err)
	}
	w.Unfinished(part)
	writing, never := make(chan struct{}), make(chan struct{})
	go func() {
		_ = w.File("c.csv", func() error { close(writing); <-never; return nil })
	}()
	<-writing
	err := w.End(context.Canceled)
	if want := "stopped before the end; written before that: a.csv; nothing else was changed, but c.csv may " +
		"be as it was or new: it was being written"; err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
	if w.mu.TryLock() {
		t.Error("another step could begin")
	}
	if _, err := os.Stat(filepath.Dir(part)); err == nil {
		t.Error("the unfinished folder is there")
	}
}
