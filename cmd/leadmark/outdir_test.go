package main

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// A report that fails on the way leaves nothing where a new folder was meant to be.
func TestFillLeavesNoHalfReport(t *testing.T) {
	root := t.TempDir()
	o, err := chooseOut("", filepath.Join(root, "night1"))
	if err != nil || o.there || o.path != filepath.Join(root, "night1-report") {
		t.Fatalf("%+v, %v", o, err)
	}
	broken := errors.New("stopped")
	err = o.fill(func(dir string) error {
		if err := os.WriteFile(filepath.Join(dir, "result.json"), nil, 0o666); err != nil {
			t.Fatal(err)
		}
		return broken
	})
	if !errors.Is(err, broken) {
		t.Errorf("%v", err)
	}
	if entries, _ := os.ReadDir(root); len(entries) != 0 {
		t.Errorf("left behind: %v", entries)
	}
	if err := o.fill(func(string) error { return nil }); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(o.path); err != nil || !info.IsDir() {
		t.Errorf("%v, %v", info, err)
	}
}

func TestTheReportLiesBesideTheRun(t *testing.T) {
	root := t.TempDir()
	if err := os.Mkdir(filepath.Join(root, "night1"), 0o777); err != nil {
		t.Fatal(err)
	}
	t.Chdir(filepath.Join(root, "night1"))
	want := filepath.Join(root, "night1-report")
	for _, run := range []string{".", "../night1", filepath.Join(root, "night1") + "/"} {
		o, err := chooseOut("", run)
		if err != nil {
			t.Fatal(err)
		}
		got, _ := filepath.Abs(o.path)
		if got, want := resolved(t, got), resolved(t, want); got != want {
			t.Errorf("run %q: %s, want %s", run, got, want)
		}
	}
}

// resolved follows links in the folder above, which a temporary folder may have.
func resolved(t *testing.T, path string) string {
	dir, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	return filepath.Join(dir, filepath.Base(path))
}
