package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"leadmark/cmd/leadmark/output"
)

// supervise runs a command until it ends or is told to stop. The first signal ends its context.
// Where it has not returned after the grace time, or at a second signal, the program ends without
// it: files are written whole or not at all, so that between two steps it can end anywhere.
func (a *app) supervise(args []string, signals <-chan os.Signal) int {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	last, stopLast := context.WithCancel(context.Background())
	defer stopLast()
	a.LastStop = last
	done := make(chan error, 1)
	go func() { done <- a.run(ctx, args) }()
	var grace <-chan time.Time
	for told := false; ; {
		select {
		case err := <-done:
			return a.finish(err)
		case <-signals:
			switch {
			case ctx.Err() == nil && a.Finishes.Load():
				stop() // its own end; the next signal stops it
				continue
			case told:
				return a.abandon(done)
			}
			told = true
			stop()
			stopLast()
			grace = a.grace()
		case <-grace:
			return a.abandon(done)
		}
	}
}

// abandon ends without a command that does not return.
func (a *app) abandon(done <-chan error) int {
	select {
	case err := <-done: // it has, at the last moment
		return a.finish(err)
	default:
	}
	if a.Endless.Load() {
		return statusResult
	}
	return a.finish(a.Written.End(context.Canceled))
}

// finish says what went wrong, and what was written all the same.
func (a *app) finish(err error) int {
	explain(a.Stderr, err)
	var stopped output.StoppedError // says it itself
	if list := a.Written.List(); err != nil && list != "" && !errors.As(err, &stopped) {
		fmt.Fprintln(a.Stderr, "note: written before that:", list)
	}
	return exitStatus(err)
}
