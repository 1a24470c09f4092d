package keep_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"leadmark/input"
	"leadmark/keep"
	"leadmark/keep/keeptest"
)

// naive writes a file as one would without thinking: the harness must find what is wrong with that.
func naive(d keep.Disk, dir string) error {
	f, err := d.OpenFile(filepath.Join(dir, "a"), os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write([]byte("the new text"))
	return errors.Join(err, f.Close())
}

// hasty gives the new file its name before it is on the disk.
func hasty(d keep.Disk, dir string) error {
	f, err := d.OpenFile(filepath.Join(dir, ".a"), os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write([]byte("the new text"))
	return errors.Join(err, f.Close(), d.Rename(filepath.Join(dir, ".a"), filepath.Join(dir, "a")), d.SyncFolder(dir))
}

func caseOf(do func(d keep.Disk, dir string) error) keeptest.Case {
	return keeptest.Case{
		Set: func(t *testing.T, dir string) {
			if err := os.WriteFile(filepath.Join(dir, "a"), []byte("the old text"), 0o666); err != nil {
				t.Fatal(err)
			}
		},
		Do: do,
		State: func(_ *testing.T, dir string) string {
			text, err := os.ReadFile(filepath.Join(dir, "a"))
			if err != nil {
				return err.Error()
			}
			return string(text)
		},
	}
}

func TestTheHarnessFindsWhatIsWrong(t *testing.T) {
	for name, do := range map[string]func(keep.Disk, string) error{"naive": naive, "hasty": hasty} {
		_, wrong := caseOf(do).Points(t)
		if !strings.Contains(strings.Join(wrong, "\n"), "neither the old nor the new") {
			t.Errorf("%s: %q", name, wrong)
		}
	}
}

func TestReplaceStandsEveryFault(t *testing.T) {
	keeptest.Every(t, caseOf(func(d keep.Disk, dir string) error {
		return keep.Replace(d, filepath.Join(dir, "a"), []byte("the new text"))
	}))
}

func TestCreateTakesNoOtherFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	if made, err := keep.Create(keep.System(), path, []byte("one")); !made || err != nil {
		t.Fatal(made, err)
	}
	if made, err := keep.Create(keep.System(), path, []byte("two")); made || err != nil {
		t.Error(made, err)
	}
	if text, _ := os.ReadFile(path); string(text) != "one" {
		t.Errorf("%s", text)
	}
	if entries, _ := os.ReadDir(filepath.Dir(path)); len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
}

// The permissions that a person gave a file stay.
func TestReplaceKeepsPermissions(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	if err := os.WriteFile(path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := keep.Replace(keep.System(), path, []byte("x")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Error(info.Mode(), err)
	}
}

// What is said names the file and what to do, by what the disk says.
func TestMessages(t *testing.T) {
	for errno, want := range map[error]string{
		syscall.ENOSPC: "full: make room", syscall.EROFS: "only be read", syscall.EACCES: "permissions", syscall.EIO: "check the disk", syscall.ENOENT: "mounted",
	} {
		err := keep.Replace(refusing{keep.System(), errno}, "/some/where/corrections.toml", []byte("x"))
		var known *input.Error
		if !errors.As(err, &known) || known.File != "/some/where/corrections.toml" || !strings.Contains(known.Hint, want) || !strings.Contains(known.What, "as it was") {
			t.Errorf("%v: %+v", errno, known)
		}
	}
}

// refusing is a disk that opens nothing.
type refusing struct {
	keep.Disk
	err error
}

func (r refusing) OpenFile(path string, _ int, _ fs.FileMode) (keep.File, error) {
	return nil, &fs.PathError{Op: "open", Path: path, Err: r.err}
}
func (r refusing) Remove(string) error { return nil }

func TestCheckSchema(t *testing.T) {
	for got, ok := range map[string]bool{"leadmark/result/1": true, "leadmark/result/2": true, "leadmark/result/3": false, "leadmark/result/0": false, "leadmark/result": false, "": false, "leadmark/plan/1": false, "/": false} {
		if err := keep.CheckSchema(got, "leadmark/result/2"); (err == nil) != ok || errors.Is(err, keep.ErrLater) != (got == "leadmark/result/3") {
			t.Errorf("%q: %v", got, err)
		}
	}
}
