package runfile

import (
	"context"
	"errors"
	"path/filepath"

	"leadmark/calib/store"
)

// Correct changes what was put right in the run of a folder: change is given what is there and
// returns what shall be. The file is replaced in one step and is on the disk when Correct returns;
// whoever else changes it waits. before is what there was, for a person who wants it back.
func Correct(ctx context.Context, dir string, change func(Corrections) (Corrections,
	error)) (before, after Corrections, err error) {
	return correct(ctx, store.System(), dir, change)
}

func correct(ctx context.Context, d store.Disk, dir string,
	change func(Corrections) (Corrections, error)) (before, after Corrections, err error) {
	unlock, err := store.Lock(ctx, dir)
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
	if err := store.Replace(d, filepath.Join(dir, CorrectionsFileName), after.Text()); err != nil {
		return before, before, err
	}
	return before, after, nil
}
