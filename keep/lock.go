package keep

import (
	"os"
	"runtime"

	"github.com/gofrs/flock"

	"leadmark/input"
)

// Lock waits until no other process holds the lock of a file or folder that is there, and holds it. No lock file is left
// behind. Where folders cannot be locked nothing is.
func Lock(path string) (unlock func() error, err error) {
	if runtime.GOOS == "windows" {
		return func() error { return nil }, nil
	}
	lock := flock.New(path, flock.SetFlag(os.O_RDONLY))
	if err := lock.Lock(); err != nil {
		return nil, &input.Error{File: path, What: "cannot be locked against other programs", Err: reason(err), Hint: "copy the folder to a disk of this computer"}
	}
	return lock.Close, nil
}
