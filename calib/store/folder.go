package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"leadmark/calib/input"
)

// Folder makes a folder that is not there yet, or is empty, whole or not at all: fill writes into
// one of another, hidden name. What fill returns is returned, and nothing is there then. Where
// another program makes it meanwhile the error is ErrFaster.
func Folder(path string, fill func(dir string) error) error {
	Cleanup(System(), filepath.Dir(path))
	p, err := hiddenFolder(path)
	if err != nil {
		return notMade(path, err)
	}
	defer p.release()
	if err := fill(p.path); err != nil {
		return errors.Join(err, os.RemoveAll(p.path))
	}
	if err := syncTree(p.path); err != nil {
		return errors.Join(notMade(path, err), os.RemoveAll(p.path))
	}
	if err := nameFolder(p.path, path); err != nil {
		return errors.Join(err, os.RemoveAll(p.path))
	}
	return folder(System(), path)
}

// syncTree returns when all that is in a folder is on the disk.
func syncTree(dir string) error {
	return filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir():
			return System().SyncFolder(path)
		case !e.Type().IsRegular():
			return nil
		}
		f, err := os.OpenFile(path, os.O_RDWR, 0) // some systems sync only what may be written
		if err != nil {
			return err
		}
		return errors.Join(f.Sync(), f.Close())
	})
}

// MakeFolder makes a folder with those above it that are missing, and returns when their names are
// on the disk. One that is there stays as it is.
func MakeFolder(path string) error {
	above := filepath.Dir(path)
	if _, err := os.Stat(path); err != nil && above != path {
		if err := MakeFolder(above); err != nil {
			return err
		}
	}
	err := os.Mkdir(path, 0o777)
	if errors.Is(err, fs.ErrExist) {
		return os.MkdirAll(path, 0o777) // which says what stands there where it is no folder
	}
	if err != nil {
		return err
	}
	return System().SyncFolder(above)
}

// hiddenFolder makes the hidden folder, under a name that nobody has.
func hiddenFolder(path string) (p part, err error) {
	for range mostTries {
		name := partName(path)
		if err = os.Mkdir(name, 0o777); errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return part{}, err
		}
		if release, ok := hold(name); ok {
			return part{name, release}, nil
		}
		err = fs.ErrExist
	}
	return part{}, err
}

// nameFolder gives a folder its name. An empty one in its place gives way, everything else stays.
func nameFolder(part, path string) error {
	err := os.Rename(part, path)
	if err == nil {
		return nil
	}
	info, look := os.Lstat(path)
	if look != nil {
		return notMade(path, err)
	}
	if info.IsDir() && os.Remove(path) == nil { // systems where an empty folder does not give way by itself
		if err = os.Rename(part, path); err == nil {
			return nil
		}
	}
	return faster(path)
}

func notMade(path string, err error) error {
	return &input.Error{File: path, What: "could not be made", Err: input.Cause(err), Hint: remedy(err)}
}

// Writable finds, before long work, that nothing could be written into a folder. It leaves nothing
// behind.
func Writable(dir string) error {
	p, file, err := openPart(System(), filepath.Join(dir, "try"), nil)
	if err != nil {
		return err
	}
	defer p.release()
	return errors.Join(file.Close(), os.Remove(p.path))
}
