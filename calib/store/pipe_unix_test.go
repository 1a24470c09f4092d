//go:build unix

package store_test

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"leadmark/calib/store"
)

// A pipe and a folder in the place of a file are refused at once: opening a pipe would wait for ever.
func TestWhatIsNoFileIsRefused(t *testing.T) {
	dir := t.TempDir()
	pipe, folder := filepath.Join(dir, "pipe"), filepath.Join(dir, "folder")
	if err := errors.Join(syscall.Mkfifo(pipe, 0o666), os.Mkdir(folder, 0o777)); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{pipe, folder} {
		lines := store.Lines{Path: path, Most: 100}
		_, err := lines.Append(store.System(), func([]byte) ([]byte, error) { return []byte("{}\n"), nil })
		for what, err := range map[string]error{"append": err, "ready": lines.Ready(),
			"replace": store.Replace(store.System(), path, []byte("x")),
			"remove":  store.Replace(store.System(), path, nil)} {
			refused(t, what+" "+filepath.Base(path), err, "is not a file")
		}
		if made, err := store.Create(store.System(), path, []byte("x")); made || err != nil {
			t.Error(made, err)
		}
	}
	if left := names(t, dir); left != "folder pipe" {
		t.Errorf("there is now %s", left)
	}
}
