package output

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// noReport finds no earlier report.
func noReport(string) bool { return false }

// A report that fails on the way leaves nothing where a new folder was meant to be.
func TestFillLeavesNoHalfReport(t *testing.T) {
	root := t.TempDir()
	o, err := Choose("", filepath.Join(root, "night1"), "-report", noReport)
	if err != nil || o.there || o.Path != filepath.Join(root, "night1-report") {
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
	if info, err := os.Stat(o.Path); err != nil || !info.IsDir() {
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
		o, err := Choose("", run, "-report", noReport)
		if err != nil {
			t.Fatal(err)
		}
		got, _ := filepath.Abs(o.Path)
		if got, want := resolved(t, got), resolved(t, want); got != want {
			t.Errorf("run %q: %s, want %s", run, got, want)
		}
	}
}

// The report's folder beside a run that came from somebody else may be a link to anywhere; one that
// a person names is theirs.
func TestTheReportFollowsNoLinkBesideTheRun(t *testing.T) {
	root, elsewhere := t.TempDir(), t.TempDir()
	link := filepath.Join(root, "night1-report")
	if err := os.Symlink(elsewhere, link); err != nil {
		t.Fatal(err)
	}
	if _, err := Choose("", filepath.Join(root, "night1"), "-report", noReport); err == nil ||
		!strings.Contains(err.Error(), "is a link") {
		t.Error(err)
	}
	if _, err := Choose(link, filepath.Join(root, "night1"), "-report", noReport); err != nil {
		t.Error(err)
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
