// Package parallel does independent pieces of work several at a time. Each piece writes to a place
// of its own, so that what comes out does not depend on the order they are done in.
package parallel

import (
	"context"
	"runtime"

	"golang.org/x/sync/errgroup"
)

// Try calls do for 0 to n-1, at most workers at a time (0: one for each processor). After the first
// error, or when ctx has ended, it begins no more; it returns that error, or the cause of that end,
// once all that was begun is done. The context that do is given ends with the first error too.
func Try(ctx context.Context, n, workers int, do func(ctx context.Context, i int) error) error {
	g, inner := errgroup.WithContext(ctx)
	g.SetLimit(Workers(workers))
	for i := 0; i < n && inner.Err() == nil; i++ {
		g.Go(func() error {
			if inner.Err() != nil {
				return nil
			}
			return do(inner, i)
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	return context.Cause(ctx)
}

// Each calls do for 0 to n-1, at most workers at a time (0: one for each processor).
func Each(n, workers int, do func(i int)) {
	var g errgroup.Group
	g.SetLimit(Workers(workers))
	for i := range n {
		g.Go(func() error {
			do(i)
			return nil
		})
	}
	_ = g.Wait() // no piece fails
}

// Workers is how many work at a time where so many were asked for.
func Workers(asked int) int {
	if asked > 0 {
		return asked
	}
	return runtime.GOMAXPROCS(0)
}
