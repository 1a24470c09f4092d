package keep

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// PartOf is what a new file is called until it is whole: one hidden name, so that what a killed program left goes with the next.
func PartOf(path string) string {
	return filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".part")
}

// Replace puts a file in the place of another in one step and returns when both it and its name are on the disk. Nil text
// takes the file away. The new file has the permissions of the old one. An error is an *input.Error.
func Replace(d Disk, path string, text []byte) error {
	if text == nil {
		if err := d.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return failure(path, err)
		}
		return folder(d, path)
	}
	mode := fs.FileMode(0o666)
	if info, err := os.Stat(path); err == nil {
		mode = info.Mode().Perm()
	}
	err := part(d, path, text, mode)
	if err == nil {
		err = d.Rename(PartOf(path), path)
	}
	if err != nil {
		_ = d.Remove(PartOf(path)) // where it stays, the next one takes its place
		return failure(path, err)
	}
	return folder(d, path)
}

// Create makes a file that is not there yet, whole or not at all; made is false where there is one of that name, which stays as it
// is. An error is an *input.Error.
func Create(d Disk, path string, text []byte) (made bool, err error) {
	if _, err := os.Lstat(path); err == nil {
		return false, nil
	}
	if err = part(d, path, text, 0o666); err == nil {
		err = named(d, path)
	}
	switch {
	case errors.Is(err, fs.ErrExist): // somebody else was faster
		return false, errors.Join(d.Remove(PartOf(path)))
	case err != nil:
		_ = d.Remove(PartOf(path))
		return false, failure(path, err)
	}
	return true, folder(d, path)
}

// named gives a finished part its name without taking it from another file. Disks of cards have no links: there a rename does, after a
// look.
func named(d Disk, path string) error {
	err := d.Link(PartOf(path), path)
	switch {
	case err == nil:
		_ = d.Remove(PartOf(path))
		return nil
	case errors.Is(err, fs.ErrExist):
		return err
	}
	return d.Rename(PartOf(path), path)
}

// part writes the hidden file.
func part(d Disk, path string, text []byte, mode fs.FileMode) error {
	file, err := d.OpenFile(PartOf(path), os.O_WRONLY|os.O_CREATE|os.O_TRUNC, mode)
	if err != nil {
		return err
	}
	_, err = file.Write(text)
	if err == nil {
		err = file.Sync()
	}
	return errors.Join(err, file.Close())
}

// folder makes a file's new name last. Where that fails the file is there all the same, until the power is cut.
func folder(d Disk, path string) error {
	if err := d.SyncFolder(filepath.Dir(path)); err != nil {
		return unsure(path, err)
	}
	return nil
}
