package main

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
)

// fill writes a folder of results, which what names. A new one is there whole or not at all; of an
// earlier one, whose files are replaced one by one, what is told is how many were.
func (a *app) fill(ctx context.Context, out outDir, what string, write func(dir string) error) error {
	whole := kind{one: what + " in " + out.path}
	if out.there {
		return a.refill(out, what, whole, write)
	}
	err := out.fill(func(dir string) error {
		a.written.unfinished(dir)
		if err := write(dir); err != nil {
			return err
		}
		a.written.begin(out.path)
		return ctx.Err()
	})
	n := 0
	if err == nil {
		n = 1
	}
	a.written.done(whole, n)
	return err
}

func (a *app) refill(out outDir, what string, whole kind, write func(dir string) error) error {
	before := filesIn(out.path)
	a.written.begin("each file of " + what + " in " + out.path)
	err := out.fill(write)
	n := 0
	for name, now := range filesIn(out.path) {
		if old, was := before[name]; !was || !os.SameFile(old, now) {
			n++
		}
	}
	switch {
	case err == nil && n > 0:
		a.written.done(whole, 1)
	default:
		a.written.done(kind{"1 file", "files", " of " + whole.one}, n)
	}
	return err
}

// renewed reports whether a file was written: files are never changed in their place.
func renewed(path string, do func() error) (n int, err error) {
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
