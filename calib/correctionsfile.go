package calib

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"leadmark/keep"
)

// Correct changes what was put right in the run of a folder: change is given what is there and returns what shall be.
// The file is replaced in one step and is on the disk when Correct returns; whoever else changes it waits. before is
// what there was, for a person who wants it back.
func Correct(dir string, change func(Corrections) (Corrections, error)) (before, after Corrections, err error) {
	return correct(keep.System(), dir, change)
}

func correct(d keep.Disk, dir string, change func(Corrections) (Corrections, error)) (before, after Corrections, err error) {
	unlock, err := keep.Lock(dir)
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
	if err := keep.Replace(d, filepath.Join(dir, CorrectionsFileName), after.Text()); err != nil {
		return before, before, err
	}
	return before, after, nil
}

// Sweep takes away what a killed program left of a new corrections.toml that it did not finish.
func Sweep(dir string) error {
	unlock, err := keep.Lock(dir)
	if err != nil {
		return err
	}
	err = os.Remove(keep.PartOf(filepath.Join(dir, CorrectionsFileName)))
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return errors.Join(err, unlock())
}
