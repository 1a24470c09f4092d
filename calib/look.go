package calib

import (
	"context"
	"errors"
	"runtime"
	"sync"

	"leadmark/calib/read/cache"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// LookFunc finds rulers in one picture, that whose bytes have the frame's digest. What is wrong with the picture is said in the
// Sighting. An error ends the run, but for a *frame.Refusal: then the file does not hold that picture, and the frame is refused.
type LookFunc func(ctx context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error)

// at looks at a frame.
func (look LookFunc) at(ctx context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error) {
	s, err := look(ctx, f, h)
	var bad *frame.Refusal
	if errors.As(err, &bad) {
		return ruler.Sighting{Width: f.Width, Height: f.Height, Refusal: ruler.Reason{Code: bad.Code, Text: bad.Text}}, nil
	}
	return s, err
}

// ShiftFunc says how far the scene of b lies from that of a; ok is false where they cannot be compared.
type ShiftFunc func(a, b ruler.Backdrop) (s ruler.Shift, ok bool)

// Folder is what lies in a run's folder.
type Folder struct {
	Frames  []frame.Frame
	Refused []frame.Refusal
}

// Options are how a run is read.
type Options struct {
	Look     LookFunc
	Shift    ShiftFunc                          // nil: moves of the camera are not looked for
	Progress func(done, total int, name string) // may be nil
	Workers  int                                // 0: one for each processor
	Memory   *cache.Cache                       // what earlier looks settled; may be nil
}

// look looks at the frames of a list, several at a time, and keeps what was seen.
func (s *reader) look(ctx context.Context, list []int, h ruler.Hint) error {
	h = s.hinted(h)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	next := make(chan int)
	var wg sync.WaitGroup
	var mu sync.Mutex
	var first error
	for range min(s.workers(), len(list)) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				seen, err := s.o.Look.at(ctx, s.frames[i].Frame, h)
				mu.Lock()
				s.sights.saw(i, s.frames[i].Frame, &h, seen)
				if err != nil && first == nil {
					first = err
					cancel()
				}
				s.tell(i)
				mu.Unlock()
			}
		}()
	}
	feed(ctx, next, list)
	wg.Wait()
	if first == nil {
		first = ctx.Err()
	}
	return first
}

// lookOnce looks once more at a frame of which the memory lost what was seen.
func (s *reader) lookOnce(ctx context.Context) func(i int, h ruler.Hint) ruler.Sighting {
	return func(i int, h ruler.Hint) ruler.Sighting {
		seen, err := s.o.Look.at(ctx, s.frames[i].Frame, h)
		if err != nil {
			seen.Refusal = ruler.Reason{Code: "unreadable", Text: "it was to be looked at again: " + err.Error()}
		}
		return seen
	}
}

// hinted adds to a hint what holds for every frame of the run.
func (s *reader) hinted(h ruler.Hint) ruler.Hint {
	h.Twin, h.Toward = twinHint(s.run), s.run.Travel.Direction()
	return h
}

func (s *reader) workers() int {
	if s.o.Workers > 0 {
		return s.o.Workers
	}
	return runtime.NumCPU()
}

// inParallel calls do for 0 to n-1, several at a time.
func (s *reader) inParallel(n int, do func(k int)) {
	var wait sync.WaitGroup
	workers := min(s.workers(), n)
	for w := range workers {
		wait.Go(func() {
			for k := w; k < n; k += workers {
				do(k)
			}
		})
	}
	wait.Wait()
}

// tell reports progress; a frame that is looked at again counts once.
func (s *reader) tell(i int) {
	if s.seen == nil {
		s.seen = map[int]bool{}
	}
	s.seen[i] = true
	if s.o.Progress != nil {
		s.o.Progress(len(s.seen), s.total, s.frames[i].Name)
	}
}

// feed hands out the list until it ends or the context does.
func feed(ctx context.Context, next chan<- int, list []int) {
	defer close(next)
	for _, i := range list {
		select {
		case next <- i:
		case <-ctx.Done():
			return
		}
	}
}
