package store

import (
	"os"
	"runtime"

	"github.com/gofrs/flock"
)

// What a program is writing is told from what a killed one left by a lock on it: it goes with the
// process.

// hold locks a part that was just made; ok is false where a sweep took it away meanwhile. Where
// there are no such locks, it goes by its age.
func hold(path string) (release func(), ok bool) {
	lock, held := tryHold(path)
	switch {
	case held == unheld:
		return nil, false
	case held == unknown:
		return func() {}, true
	}
	return func() { _ = lock.Close() }, true
}

// holding is what a try to lock a part says of it.
type holding int

const (
	unknown holding = iota // no locks here
	ours                   // nobody was at it, and now we are
	unheld                 // somebody else is, or it is gone
)

// tryHold locks what stands at a path, without waiting and without following a link.
func tryHold(path string) (*flock.Flock, holding) {
	if runtime.GOOS == "windows" { // a lock there would keep the writer itself out
		return nil, unknown
	}
	lock := flock.New(path, flock.SetFlag(os.O_RDONLY|noFollow))
	locked, err := lock.TryLock()
	if err != nil {
		if _, gone := os.Lstat(path); gone != nil {
			return nil, unheld
		}
		return nil, unknown
	}
	if !locked {
		return nil, unheld
	}
	if !stillThere(lock, path) {
		_ = lock.Close()
		return nil, unheld
	}
	return lock, ours
}

// stillThere says whether what was locked is what now has the name.
func stillThere(lock *flock.Flock, path string) bool {
	mine, err := lock.Stat()
	if err != nil {
		return false
	}
	now, err := os.Lstat(path)
	return err == nil && os.SameFile(mine, now)
}
