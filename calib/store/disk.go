package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"runtime"
)

// Disk does the single steps of writing.
type Disk interface {
	OpenFile(path string, flag int, mode fs.FileMode) (File, error)
	Rename(from, to string) error
	Link(from, to string) error // fails where to is there
	Move(from, to string) error // as Rename, but fails where to is there
	Remove(path string) error
	SyncFolder(dir string) error // makes new names last
}

// File is an open file of a Disk.
type File interface {
	io.ReadWriteCloser
	Chmod(mode fs.FileMode) error
	Truncate(size int64) error
	Sync() error
}

// System is the computer's own disk.
func System() Disk { return system{} }

type system struct{}

func (system) OpenFile(path string, flag int, mode fs.FileMode) (File, error) {
	return os.OpenFile(path, flag, mode)
}
func (system) Rename(from, to string) error { return os.Rename(from, to) }
func (system) Link(from, to string) error   { return os.Link(from, to) }
func (system) Move(from, to string) error   { return moveNew(from, to) }
func (system) Remove(path string) error     { return os.Remove(path) }

func (system) SyncFolder(dir string) error {
	if runtime.GOOS == "windows" { // folders cannot be synced there
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}

// lookAndRename stands for Move where the system has none.
func lookAndRename(from, to string) error {
	if _, err := os.Lstat(to); err == nil {
		return &os.LinkError{Op: "rename", Old: from, New: to, Err: fs.ErrExist}
	}
	return os.Rename(from, to)
}
