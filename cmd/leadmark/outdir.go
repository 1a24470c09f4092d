package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"leadmark/calib/input"
	"leadmark/calib/record"
	"leadmark/calib/store"
)

// outDir is where a report goes.
type outDir struct {
	path  string
	there bool // it holds an earlier report of ours, or nothing
}

// chooseOut settles where the report goes, by default beside the run, and refuses a folder that
// holds anything but an earlier report: a person's file is never overwritten.
func chooseOut(given, run string) (outDir, error) {
	return chooseFolder(given, run, "-report", isReport)
}

// chooseFolder is chooseOut for another kind of output: suffix is what the folder beside the run is
// called by, ours tells an earlier one.
func chooseFolder(given, run, suffix string, ours func(dir string) bool) (outDir, error) {
	path := given
	if path != "" {
		path = filepath.Clean(path) // a slash at the end would name a place inside
	} else {
		abs, err := filepath.Abs(run)
		if err != nil {
			return outDir{}, fmt.Errorf("finding the folder of the run: %w", err)
		}
		path = filepath.Clean(run) + suffix
		if base := filepath.Base(run); base == "." || base == ".." {
			path = abs + suffix
		}
	}
	if given == "" && isLink(path) {
		return outDir{}, &input.Error{File: path, What: "is a link, and the report would go elsewhere; " +
			"nothing was written",
			Hint: "name the folder with --out DIR, or take the link away"}
	}
	entries, err := os.ReadDir(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return outDir{path, false}, checkParent(path)
	case err != nil:
		return outDir{}, &input.Error{File: path, What: "cannot take the report: it is not a folder that can " +
			"be looked into", Hint: "choose another with --out DIR"}
	case len(entries) == 0 || ours(path):
		return outDir{path, true}, nil
	}
	return outDir{}, &input.Error{File: path, What: "is there already and holds no earlier report; nothing was written",
		Hint: "choose another folder with --out DIR, or move this one away"}
}

// isLink reports whether a path is a link. In a folder that came from somebody else it may lead
// anywhere.
func isLink(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}

// isReport reports whether a folder holds a result of this program.
func isReport(dir string) bool {
	text, err := input.ReadBounded(filepath.Join(dir, "result.json"), 256<<20)
	if err != nil {
		return false
	}
	_, err = record.Decode(text)
	return err == nil
}

// checkParent finds before the long work that a folder could not be made.
func checkParent(path string) error {
	parent := filepath.Dir(path)
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return &input.Error{File: parent, What: "cannot be made", Err: err,
			Hint: "choose another folder with --out DIR"}
	}
	if store.Writable(parent) != nil {
		return &input.Error{File: parent, What: "cannot be written, so there is no place for the report",
			Hint: "choose another folder with --out DIR"}
	}
	return nil
}

// fill writes the report. A new folder appears whole or not at all; in an earlier report each
// file is replaced by itself.
func (o outDir) fill(write func(dir string) error) error {
	if o.there {
		return write(o.path)
	}
	return store.Folder(o.path, write)
}
