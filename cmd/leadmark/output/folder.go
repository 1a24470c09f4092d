package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"leadmark/calib/input"
	"leadmark/calib/store"
)

// Folder is where results go, such as a report.
type Folder struct {
	Path  string
	there bool // it holds earlier results of the kind, or nothing
}

// Choose finds where results go, by default beside the run in a folder whose name ends in suffix,
// and refuses a folder that holds anything but earlier ones, which ours tells: a person's file is
// never overwritten.
func Choose(given, run, suffix string, ours func(dir string) bool) (Folder, error) {
	path := given
	if path != "" {
		path = filepath.Clean(path) // a slash at the end would name a place inside
	} else {
		abs, err := filepath.Abs(run)
		if err != nil {
			return Folder{}, fmt.Errorf("finding the folder of the run: %w", err)
		}
		path = filepath.Clean(run) + suffix
		if base := filepath.Base(run); base == "." || base == ".." {
			path = abs + suffix
		}
	}
	if given == "" && isLink(path) {
		return Folder{}, &input.Error{File: path, What: "is a link, and the report would go elsewhere; " +
			"nothing was written",
			Hint: "name the folder with --out DIR, or take the link away"}
	}
	entries, err := os.ReadDir(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return Folder{path, false}, CheckParent(path)
	case err != nil:
		return Folder{}, &input.Error{File: path, What: "cannot take the report: it is not a folder that can " +
			"be looked into", Hint: "choose another with --out DIR"}
	case len(entries) == 0 || ours(path):
		return Folder{path, true}, nil
	}
	return Folder{}, &input.Error{File: path, What: "is there already and holds no earlier report; nothing was written",
		Hint: "choose another folder with --out DIR, or move this one away"}
}

// isLink reports whether a path is a link. In a folder that came from somebody else it may lead
// anywhere.
func isLink(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.Mode()&fs.ModeSymlink != 0
}

// CheckParent finds before the long work that a folder could not be made.
func CheckParent(path string) error {
	parent := filepath.Dir(path)
	if err := store.MakeFolder(parent); err != nil {
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
func (o Folder) fill(write func(dir string) error) error {
	if o.there {
		return write(o.Path)
	}
	return store.Folder(o.Path, write)
}
