package store_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"leadmark/calib/input"
	"leadmark/calib/store"
)

// mounted is a folder on a disk of its own in memory, of 64 kB; the test is skipped where none may
// be mounted.
func mounted(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("only root may mount a disk: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
	return dir
}

// A disk that is really full, and one that can really only be read, even by root: the file is as it
// was, nothing is left behind, and the message says what to do.
func TestRealDisks(t *testing.T) {
	for hint, spoil := range map[string]func(dir string) error{
		"make room": func(dir string) error {
			if err := os.WriteFile(filepath.Join(dir, "large"), make([]byte, 64<<10), 0o666); !errors.Is(err,
				syscall.ENOSPC) {
				return errors.New("the disk is not full")
			}
			return nil
		},
		"only be read": func(dir string) error {
			return syscall.Mount("", dir, "",
				syscall.MS_REMOUNT|syscall.MS_RDONLY, "")
		},
	} {
		dir := mounted(t)
		path, lines := filepath.Join(dir, "corrections.toml"), filepath.Join(dir, "calibrations.jsonl")
		for _, p := range []string{path, lines} {
			if err := os.WriteFile(p, []byte("{}\n"), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		if err := spoil(dir); err != nil {
			t.Fatal(err)
		}
		text := bytes.Repeat([]byte("a line of text\n"), 1000)
		_, errCreate := store.Create(store.System(), filepath.Join(dir, "new.toml"), text)
		_, errAppend := store.Lines{Path: lines, Most: 1 << 20, Torn: "torn"}.Append(store.System(),
			func([]byte) ([]byte, error) { return text, nil })
		for what, err := range map[string]error{"replace": store.Replace(store.System(), path, text),
			"create": errCreate, "append": errAppend} {
			var known *input.Error
			if !errors.As(err, &known) || !strings.Contains(known.Hint, hint) ||
				!strings.Contains(known.What, "as it was") || known.File == "" {
				t.Errorf("%s, %s: %v (%+v)", hint, what, err, known)
			}
		}
		for _, p := range []string{path, lines} {
			if now, err := os.ReadFile(p); err != nil || string(now) != "{}\n" {
				t.Errorf("%s: %s holds %d bytes, %v", hint, filepath.Base(p), len(now), err)
			}
		}
		if entries, _ := os.ReadDir(dir); len(entries) > 3 {
			t.Errorf("%s: left behind: %v", hint, entries)
		}
	}
}
