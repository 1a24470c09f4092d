package store

import (
	"errors"
	"io/fs"
	"syscall"

	"leadmark/calib/input"
)

// failure says that a file could not be written and is as it was.
func failure(path string, err error) error {
	return &input.Error{File: path, What: "could not be written and is as it was", Err: input.Cause(err), Hint: remedy(err)}
}

// unsureError is an error after which the file may be as it was or as it was meant to be.
type unsureError struct{ told *input.Error }

func (e unsureError) Error() string { return e.told.Error() }
func (e unsureError) Unwrap() error { return e.told }

// unsure says that a file was written but may not last.
func unsure(path string, err error) error {
	return unsureError{&input.Error{File: path, What: "was written, but the disk does not say that it will " +
		"last: it may be as it was or as it was meant to be", Err: input.Cause(err),
		Hint: remedy(err) + "; then look whether the change is there before you make it again"}}
}

func isUnsure(err error) bool {
	var e unsureError
	return errors.As(err, &e)
}

// ErrFaster marks that another program made a file or folder between the look whether it is there
// and the writing.
var ErrFaster = errors.New("another program was faster")

// fasterError is told in words of its own.
type fasterError struct{ told *input.Error }

func (e fasterError) Error() string        { return e.told.Error() }
func (e fasterError) Unwrap() error        { return e.told }
func (e fasterError) Is(target error) bool { return target == ErrFaster }

func faster(path string) error {
	return fasterError{&input.Error{File: path, What: "was just made by another program; nothing of yours " +
		"was written there",
		Hint: "look at it, and choose another name if it is not what you want"}}
}

// remedy is what to do about an error of the disk.
func remedy(err error) string {
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return "the disk is full: make room on it and do it again"
	case errors.Is(err, syscall.EROFS):
		return "the disk can only be read, as a locked card: copy the folder to one that can be written"
	case errors.Is(err, fs.ErrPermission):
		return "mend the permissions of the file and its folder, or copy the folder to a place of yours"
	case errors.Is(err, fs.ErrNotExist):
		return "check that the folder is there and the disk is mounted"
	}
	return "check the disk: copy the folder to another one if it goes on failing"
}
