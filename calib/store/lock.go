package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"runtime"
	"syscall"
	"time"

	"github.com/gofrs/flock"

	"leadmark/calib/input"
)

// Patience says how a lock is waited for that another program holds.
type Patience struct {
	Tell  func(path string, most time.Duration) // is told once that it is waited for, and how long at most; may be nil
	Quiet time.Duration                         // so long it is not told: most locks are held for a moment only
	Most  time.Duration                         // then the waiting ends with an error; 0: ten seconds
}

const (
	usualQuiet = 500 * time.Millisecond
	usualMost  = 10 * time.Second
)

type patienceKey struct{}

// WithPatience has the locks below a context waited for so.
func WithPatience(ctx context.Context, p Patience) context.Context {
	return context.WithValue(ctx, patienceKey{}, p)
}

func patienceOf(ctx context.Context) Patience {
	p, ok := ctx.Value(patienceKey{}).(Patience)
	if !ok {
		p.Quiet = usualQuiet
	}
	if p.Most == 0 {
		p.Most = usualMost
	}
	if p.Tell == nil {
		p.Tell = func(string, time.Duration) {}
	}
	return p
}

// Lock waits until no other process holds the lock of a file or folder that is there, and holds it.
// It waits as the context's Patience says; when the context ends it ends at once, without the lock
// and with the context's error. No lock file is left behind. Where folders cannot be locked nothing
// is.
func Lock(ctx context.Context, path string) (unlock func() error, err error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if runtime.GOOS == "windows" {
		return func() error { return nil }, nil
	}
	p := patienceOf(ctx)
	limited, stop := context.WithTimeout(ctx, p.Most)
	defer stop()
	for {
		lock, err := p.take(limited, path)
		switch {
		case ctx.Err() != nil:
			if err == nil {
				_ = lock.Close()
			}
			return nil, ctx.Err()
		case errors.Is(err, context.DeadlineExceeded):
			return nil, busy(path, p.Most)
		case err != nil:
			return nil, &input.Error{File: path, What: "cannot be locked against other programs",
				Err: input.Cause(err), Hint: "copy the folder to a disk of this computer"}
		case !isNow(lock, path): // it was replaced while it was waited for
			_ = lock.Close()
			continue
		}
		return lock.Close, nil
	}
}

func busy(path string, most time.Duration) error {
	return &input.Error{File: path, What: fmt.Sprintf("another program was still writing here after %v, so "+
		"nothing was written", most),
		Hint: "wait until it is done, or end it, then do this again"}
}

// isNow says whether what was locked is what the path leads to.
func isNow(lock *flock.Flock, path string) bool {
	mine, err := lock.Stat()
	if err != nil {
		return false
	}
	now, err := os.Stat(path)
	return err != nil || os.SameFile(mine, now)
}

// take takes the lock. The system cannot be told to stop waiting for one: where it is given up, it
// is let go as soon as it comes.
func (p Patience) take(ctx context.Context, path string) (*flock.Flock, error) {
	lock := flock.New(path, flock.SetFlag(os.O_RDONLY|noWait))
	if locked, err := lock.TryLock(); locked || err != nil {
		return lock, err
	}
	got := make(chan error)
	go func() {
		err := lock.Lock()
		for errors.Is(err, syscall.EINTR) {
			err = lock.Lock()
		}
		select {
		case got <- err:
		case <-ctx.Done():
			if err == nil {
				_ = lock.Close()
			}
		}
	}()
	quiet := time.NewTimer(p.Quiet)
	defer quiet.Stop()
	for {
		select {
		case err := <-got:
			return lock, err
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-quiet.C:
			p.Tell(path, p.Most)
		}
	}
}
