package parallel

import (
	"context"
	"errors"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
)

func TestEachDoesEveryPieceOnce(t *testing.T) {
	for _, n := range []int{0, 1, 7, 1000} {
		var done [1000]atomic.Int32
		Each(n, 3, func(i int) { done[i].Add(1) })
		for i := range done {
			if want := i < n; (done[i].Load() == 1) != want || done[i].Load() > 1 {
				t.Fatalf("%d of %d was done %d times", i, n, done[i].Load())
			}
		}
	}
}

// No more than the workers asked for are ever at it, and all of them are: each waits until the
// others have come.
func TestWorkersAtATime(t *testing.T) {
	const workers = 4
	var at, most atomic.Int32
	var met sync.WaitGroup
	met.Add(workers)
	Each(5*workers, workers, func(i int) {
		now := at.Add(1)
		for m := most.Load(); now > m && !most.CompareAndSwap(m, now); m = most.Load() {
		}
		if i < workers {
			met.Done()
			met.Wait()
		}
		at.Add(-1)
	})
	if most.Load() != workers {
		t.Errorf("%d at a time, want %d", most.Load(), workers)
	}
}

func TestWorkersAskedFor(t *testing.T) {
	for asked, want := range map[int]int{1: 1, 7: 7, 0: runtime.GOMAXPROCS(0), -1: runtime.GOMAXPROCS(0)} {
		if got := Workers(asked); got != want {
			t.Errorf("%d workers where %d were asked for", got, asked)
		}
	}
}

func TestTryStopsAtTheFirstError(t *testing.T) {
	bad := errors.New("bad")
	var begun atomic.Int32
	err := Try(t.Context(), 1000, 2, func(ctx context.Context, i int) error {
		begun.Add(1)
		if i == 3 {
			return bad
		}
		if i > 3 {
			<-ctx.Done() // ends with the error of 3
		}
		return nil
	})
	if !errors.Is(err, bad) || begun.Load() > 6 {
		t.Errorf("%v after %d", err, begun.Load())
	}
}

func TestTryStopsWithItsContext(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	n := 0
	err := Try(ctx, 1000, 1, func(context.Context, int) error {
		if n++; n == 5 {
			stop()
		}
		return nil
	})
	if !errors.Is(err, context.Canceled) || n != 5 {
		t.Errorf("%v after %d", err, n)
	}
}
