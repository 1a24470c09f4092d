package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"leadmark/calib/input"
)

// Way is how files are written. The zero Way takes leftovers away first and returns when all is on
// the disk.
type Way struct {
	// Many is for one of many files in a folder: leftovers are left to a call of Cleanup before the first
	// of them, and that the names last to one of Settle after the last.
	Many bool
}

// Text writes a text that is there already.
func Text(text []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	}
}

// Replace puts a file in the place of another in one step and returns when both it and its name are
// on the disk. Nil text takes the file away. The new file has the permissions of the old one. Of
// several programs that do so at once the last one's file stays, whole. A link is replaced, and
// what it leads to stays as it is. An error is an *input.Error.
func Replace(d Disk, path string, text []byte) error {
	if text != nil {
		return Way{}.Replace(d, path, Text(text))
	}
	if _, err := replaceable(path); err != nil {
		return err
	}
	if err := d.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return failure(path, err)
	}
	return folder(d, path)
}

// Replace puts a file in the place of another, as the function of that name, written by a function.
func (w Way) Replace(d Disk, path string, write func(io.Writer) error) error {
	mode, err := replaceable(path)
	if err != nil {
		return err
	}
	if !w.Many {
		sweepFor(d, path)
	}
	p, err := writePart(d, path, mode, write)
	if err != nil {
		return failure(path, err)
	}
	if err := d.Rename(p.path, path); err != nil {
		p.drop(d)
		return failure(path, err)
	}
	p.release()
	return w.folder(d, path)
}

// replaceable refuses what is no file, and tells the permissions of one that is there.
func replaceable(path string) (mode *fs.FileMode, err error) {
	info, err := os.Lstat(path)
	if err != nil {
		return nil, nil // what keeps it from being looked at keeps it from being written, which says so
	}
	if info.Mode()&fs.ModeSymlink != 0 {
		if info, err = os.Stat(path); err != nil {
			return nil, nil
		}
	} else if !info.Mode().IsRegular() {
		return nil, notAFile(path)
	}
	perm := info.Mode().Perm()
	return &perm, nil
}

func notAFile(path string) error {
	return &input.Error{File: path, What: "is not a file, so nothing was written", Hint: "move away what stands there"}
}

// Create makes a file that is not there yet, whole or not at all; made is false where there is one
// of that name, which stays as it is. Where another program makes it meanwhile the error is
// ErrFaster. An error is an *input.Error.
func Create(d Disk, path string, text []byte) (made bool, err error) {
	return Way{}.Create(d, path, Text(text))
}

// Create makes a file that is not there yet, as the function of that name, written by a function.
func (w Way) Create(d Disk, path string, write func(io.Writer) error) (made bool, err error) {
	if !w.Many {
		sweepFor(d, path)
	}
	if _, err := os.Lstat(path); err == nil {
		return false, nil
	}
	p, err := writePart(d, path, nil, write)
	if err != nil {
		return false, failure(path, err)
	}
	switch err := named(d, p.path, path); {
	case errors.Is(err, fs.ErrExist):
		p.drop(d)
		return false, faster(path)
	case err != nil:
		p.drop(d)
		return false, failure(path, err)
	}
	p.release()
	return true, w.folder(d, path)
}

// named gives a finished part its name without taking it from another file. Disks of cards have no
// links, and move it.
func named(d Disk, part, path string) error {
	err := d.Link(part, path)
	switch {
	// over a network the answer may be to a second asking
	case err == nil || errors.Is(err, fs.ErrExist) && sameFile(part, path):
		_ = d.Remove(part)
		return nil
	case errors.Is(err, fs.ErrExist):
		return err
	}
	return d.Move(part, path)
}

func sameFile(a, b string) bool {
	one, err := os.Lstat(a)
	if err != nil {
		return false
	}
	other, err := os.Lstat(b)
	return err == nil && os.SameFile(one, other)
}

func (w Way) folder(d Disk, path string) error {
	if w.Many {
		return nil
	}
	return folder(d, path)
}

// Settle returns when the names of files written the way of Many are on the disk. An error is an
// *input.Error.
func Settle(d Disk, dir string) error {
	if err := d.SyncFolder(dir); err != nil {
		return unsure(dir, err)
	}
	return nil
}

// folder makes a file's new name last. Where that fails the file is there all the same, until the
// power is cut.
func folder(d Disk, path string) error {
	if err := d.SyncFolder(filepath.Dir(path)); err != nil {
		return unsure(path, err)
	}
	return nil
}
