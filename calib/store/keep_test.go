package store_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"leadmark/calib/input"
	"leadmark/calib/store"
	"leadmark/calib/store/storetest"
)

// naive writes a file as one would without thinking: the harness must find what is wrong with that.
func naive(d store.Disk, dir string) error {
	f, err := d.OpenFile(filepath.Join(dir, "a"), os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write([]byte("the new text"))
	return errors.Join(err, f.Close())
}

// hasty gives the new file its name before it is on the disk.
func hasty(d store.Disk, dir string) error {
	f, err := d.OpenFile(filepath.Join(dir, ".a"), os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write([]byte("the new text"))
	return errors.Join(err, f.Close(), d.Rename(filepath.Join(dir, ".a"), filepath.Join(dir, "a")), d.SyncFolder(dir))
}

func caseOf(do func(d store.Disk, dir string) error) storetest.Case {
	return storetest.Case{
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
	for name, do := range map[string]func(store.Disk, string) error{"naive": naive, "hasty": hasty} {
		_, wrong := caseOf(do).Points(t)
		if !strings.Contains(strings.Join(wrong, "\n"), "neither the old nor the new") {
			t.Errorf("%s: %q", name, wrong)
		}
	}
}

func TestReplaceStandsEveryFault(t *testing.T) {
	storetest.Every(t, caseOf(func(d store.Disk, dir string) error {
		return store.Replace(d, filepath.Join(dir, "a"), []byte("the new text"))
	}))
}

// noLinks is a disk without links, as cards are.
type noLinks struct{ store.Disk }

func (noLinks) Link(string, string) error { return syscall.EPERM }

// A file is made: at every step it is there whole, or not at all. The same where there are no links.
func TestCreateStandsEveryFault(t *testing.T) {
	for name, on := range map[string]func(store.Disk) store.Disk{"links": func(d store.Disk) store.Disk { return d }, "no links": func(d store.Disk) store.Disk { return noLinks{d} }} {
		t.Run(name, func(t *testing.T) {
			c := caseOf(func(d store.Disk, dir string) error {
				_, err := store.Create(on(d), filepath.Join(dir, "a"), []byte("the new text"))
				return err
			})
			c.Set = func(*testing.T, string) {}
			c.State = func(_ *testing.T, dir string) string {
				text, err := os.ReadFile(filepath.Join(dir, "a"))
				return fmt.Sprint(string(text), err == nil)
			}
			storetest.Every(t, c)
		})
	}
}

// A line is added, also behind a torn one, which goes to a file of its own.
func TestAppendStandsEveryFault(t *testing.T) {
	for _, before := range []string{"", "{\"n\": 1}\n", "{\"n\": 1}\n{\"n\": "} {
		c := caseOf(func(d store.Disk, dir string) error {
			_, err := store.Lines{Path: filepath.Join(dir, "a"), Most: 1000, Torn: "torn"}.Append(d,
				func(before []byte) ([]byte, error) {
					return fmt.Appendf(nil, "{\"n\": %d}\n", 1+strings.Count(string(before), "}\n")), nil
				})
			return err
		})
		c.Set = func(t *testing.T, dir string) {
			if before != "" {
				put(t, filepath.Join(dir, "a"), before)
			}
		}
		c.State = func(_ *testing.T, dir string) string {
			text, _ := os.ReadFile(filepath.Join(dir, "a"))
			whole, _ := store.SplitTorn(text)
			return string(whole)
		}
		storetest.Every(t, c)
	}
}

// One of many files stands every fault as well; done is said after Settle.
func TestManyStandEveryFault(t *testing.T) {
	storetest.Every(t, caseOf(func(d store.Disk, dir string) error {
		way := store.Way{Many: true}
		if err := way.Replace(d, filepath.Join(dir, "a"), store.Text([]byte("the new text"))); err != nil {
			return err
		}
		return store.Settle(d, dir)
	}))
}

func TestCreateTakesNoOtherFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	if made, err := store.Create(store.System(), path, []byte("one")); !made || err != nil {
		t.Fatal(made, err)
	}
	if made, err := store.Create(store.System(), path, []byte("two")); made || err != nil {
		t.Error(made, err)
	}
	if text, _ := os.ReadFile(path); string(text) != "one" {
		t.Errorf("%s", text)
	}
	if entries, _ := os.ReadDir(filepath.Dir(path)); len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
}

// The permissions that a person gave a file stay, those that the mask takes from new files too.
func TestReplaceKeepsPermissions(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	for _, mode := range []fs.FileMode{0o600, 0o666, 0o444} {
		put(t, path, "")
		if err := errors.Join(os.Chmod(path, mode), store.Replace(store.System(), path, []byte("x"))); err != nil {
			t.Fatal(err)
		}
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != mode {
			t.Error(mode, info.Mode(), err)
		}
	}
}

// What is said names the file and what to do, by what the disk says.
func TestMessages(t *testing.T) {
	for errno, want := range map[error]string{
		syscall.ENOSPC: "full: make room", syscall.EROFS: "only be read", syscall.EACCES: "permissions",
		syscall.EIO: "check the disk", syscall.ENOENT: "mounted",
	} {
		err := store.Replace(refusing{store.System(), errno}, "/some/where/corrections.toml", []byte("x"))
		var known *input.Error
		if !errors.As(err, &known) || known.File != "/some/where/corrections.toml" ||
			!strings.Contains(known.Hint, want) || !strings.Contains(known.What, "as it was") {
			t.Errorf("%v: %+v", errno, known)
		}
	}
}

// refusing is a disk that opens nothing.
type refusing struct {
	store.Disk
	err error
}

func (r refusing) OpenFile(path string, _ int, _ fs.FileMode) (store.File, error) {
	return nil, &fs.PathError{Op: "open", Path: path, Err: r.err}
}
func (r refusing) Remove(string) error { return nil }

func TestCheckSchema(t *testing.T) {
	for got, ok := range map[string]bool{"leadmark/result/1": true, "leadmark/result/2": true,
		"leadmark/result/3": false, "leadmark/result/0": false, "leadmark/result": false, "": false,
		"leadmark/plan/1": false, "/": false} {
		if err := store.CheckSchema(got, "leadmark/result/2"); (err == nil) != ok ||
			errors.Is(err, store.ErrLater) != (got == "leadmark/result/3") {
			t.Errorf("%q: %v", got, err)
		}
	}
}

// Behind a torn end a line is added to whole ones, and the torn piece lies in a file of its own. Where
// that fails and the error says that all is as it was, so it is, to the last byte and behind a power
// cut.
func TestATornEndIsMovedOrStays(t *testing.T) {
	const before = "{\"n\": 1}\n{\"n\": "
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	add := func(d store.Disk) (string, error) {
		return store.Lines{Path: path, Most: 1000, Torn: "torn"}.Append(d,
			func([]byte) ([]byte, error) { return []byte("{\"n\": 2}\n"), nil })
	}
	put(t, path, before)
	torn, err := add(store.System())
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{path: "{\"n\": 1}\n{\"n\": 2}\n", torn: "{\"n\": "} {
		if text, err := os.ReadFile(name); err != nil || string(text) != want {
			t.Errorf("%s: %q, %v", name, text, err)
		}
	}
	told := 0
	for _, fault := range []storetest.Fault{storetest.Error, storetest.Full} {
		for step := 1; ; step++ {
			put(t, path, before)
			d := storetest.New(step, fault)
			_, err := add(d)
			if !d.Failed() {
				break
			}
			if err == nil || !strings.Contains(err.Error(), "and is as it was") {
				continue
			}
			told++
			d.Forget()
			if text, _ := os.ReadFile(path); string(text) != before {
				t.Errorf("step %d, %v: %v\nbut it is %q", step, fault, err, text)
			}
		}
	}
	if told < 4 {
		t.Errorf("%d errors said that all was as it was", told)
	}
}
