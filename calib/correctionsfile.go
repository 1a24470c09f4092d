package calib

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"

	"github.com/gofrs/flock"
)

// Correct changes what was put right in the run of a folder: change is given what is there and returns what shall be.
// The file is replaced in one step and is on the disk when Correct returns; whoever else changes it waits. before is
// what there was, for a person who wants it back.
func Correct(dir string, change func(Corrections) (Corrections, error)) (before, after Corrections, err error) {
	unlock, err := lockFolder(dir)
	if err != nil {
		return before, after, err
	}
	defer func() { err = errors.Join(err, unlock()) }()
	if before, err = LoadCorrections(dir); err != nil {
		return before, before, err
	}
	if after, err = change(before); err != nil {
		return before, before, err
	}
	if err := after.Check(); err != nil {
		return before, before, err
	}
	if err := ReplaceText(filepath.Join(dir, CorrectionsFileName), after.Text()); err != nil {
		return before, before, err
	}
	return before, after, nil
}

// Sweep takes away what a killed program left of a new corrections.toml that it did not finish.
func Sweep(dir string) error {
	unlock, err := lockFolder(dir)
	if err != nil {
		return err
	}
	err = os.Remove(partOf(filepath.Join(dir, CorrectionsFileName)))
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return errors.Join(err, unlock())
}

// partOf is what a new file is called until it is whole.
func partOf(path string) string {
	return filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".part")
}

// lockFolder holds a lock on the folder itself, so that no lock file is left in it. Where folders cannot be locked
// nothing is.
func lockFolder(dir string) (unlock func() error, err error) {
	if runtime.GOOS == "windows" {
		return func() error { return nil }, nil
	}
	lock := flock.New(dir, flock.SetFlag(os.O_RDONLY))
	if err := lock.Lock(); err != nil {
		return nil, &InputError{File: dir, What: "cannot be locked against other programs", Err: reason(err)}
	}
	return lock.Close, nil
}

// ReplaceText puts a file in the place of another in one step and returns when both it and its name are on the disk. Nil
// text takes the file away. What a killed program leaves of a new file has one hidden name, and goes with the next.
func ReplaceText(path string, text []byte) error {
	part := partOf(path)
	if err := replace(path, part, text); err != nil {
		_ = os.Remove(part)
		return fmt.Errorf("writing %s (it is as it was): %w", path, reason(err))
	}
	return syncFolder(filepath.Dir(path))
}

func replace(path, part string, text []byte) error {
	if text == nil {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return nil
	}
	file, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o666)
	if err != nil {
		return err
	}
	_, err = file.Write(text)
	if err := errors.Join(err, file.Sync(), file.Close()); err != nil {
		return err
	}
	return os.Rename(part, path)
}

// syncFolder makes a new name last.
func syncFolder(dir string) error {
	if runtime.GOOS == "windows" { // folders cannot be synced there
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
