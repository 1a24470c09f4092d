package testdata

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// recorder notes how a test of its own would have ended.
type recorder struct {
	testing.TB
	skipped, failed bool
}

func (r *recorder) Helper()              {}
func (r *recorder) Logf(string, ...any)  {}
func (r *recorder) Skipf(string, ...any) { r.skipped = true; panic(r) }
func (r *recorder) Fatalf(string, ...any) {
	r.failed = true
	panic(r)
}

func TestProgram(t *testing.T) {
	bin := t.TempDir()
	t.Setenv("PATH", bin+string(filepath.ListSeparator)+os.Getenv("PATH"))
	put := func(name, text string, mode os.FileMode) {
		if err := os.WriteFile(filepath.Join(bin, name), []byte(text), mode); err != nil {
			t.Fatal(err)
		}
	}
	put("broken", "#!/bin/sh\nexit 1\n", 0o755)
	put("sound", "#!/bin/sh\nexit 0\n", 0o755)
	put("torn", "\x7fELF", 0o755)
	for name, want := range map[string]recorder{
		"sound": {}, "broken": {failed: true}, "torn": {failed: true}, "nowhere-installed": {skipped: true},
	} {
		got := &recorder{TB: t}
		func() {
			defer func() {
				if r := recover(); r != nil && r != any(got) {
					panic(r)
				}
			}()
			Program(got, name, "no-package", "--version")
		}()
		if got.skipped != want.skipped || got.failed != want.failed {
			t.Errorf("%s: skipped %v, failed %v", name, got.skipped, got.failed)
		}
	}
	if _, err := exec.LookPath("sound"); err != nil {
		t.Error(err)
	}
}
