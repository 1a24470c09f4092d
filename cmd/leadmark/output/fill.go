package output

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
)

// Fill writes a folder of results, which what names. A new one is there whole or not at all; of an
// earlier one, whose files are replaced one by one, what is told is how many were.
func (w *Ledger) Fill(ctx context.Context, out Folder, what string, write func(dir string) error) error {
	whole := Kind{One: what + " in " + out.Path}
	if out.there {
		return w.refill(out, what, whole, write)
	}
	err := out.fill(func(dir string) error {
		w.Unfinished(dir)
		if err := write(dir); err != nil {
			return err
		}
		w.Begin(out.Path)
		return ctx.Err()
	})
	n := 0
	if err == nil {
		n = 1
	}
	w.Done(whole, n)
	return err
}

func (w *Ledger) refill(out Folder, what string, whole Kind, write func(dir string) error) error {
	before := filesIn(out.Path)
	w.Begin("each file of " + what + " in " + out.Path)
	err := out.fill(write)
	n := 0
	for name, now := range filesIn(out.Path) {
		if old, was := before[name]; !was || !os.SameFile(old, now) {
			n++
		}
	}
	switch {
	case err == nil && n > 0:
		w.Done(whole, 1)
	default:
		w.Done(Kind{"1 file", "files", " of " + whole.One}, n)
	}
	return err
}

// Renewed reports whether a file was written: files are never changed in their place.
func Renewed(path string, do func() error) (n int, err error) {
	before, _ := os.Stat(path) // nil where it is not there
	if err := do(); err != nil {
		return 0, err
	}
	if now, err := os.Stat(path); err == nil && before != nil && os.SameFile(before, now) {
		return 0, nil
	}
	return 1, nil
}

// filesIn lists the files of a folder and those below.
func filesIn(dir string) map[string]fs.FileInfo {
	all := map[string]fs.FileInfo{}
	_ = filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return nil
		}
		if info, err := e.Info(); err == nil {
			all[path] = info
		}
		return nil
	})
	return all
}
