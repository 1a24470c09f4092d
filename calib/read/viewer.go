package read

import (
	"context"
	"sync"

	"leadmark/calib/read/cache"
	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/fit/parallel"
	"leadmark/vision/ruler"
)

// viewer looks at the frames of a run and keeps what was seen in them.
type viewer struct {
	run   runfile.Run
	o     Options
	shots []Shot
	seen  *cache.Sightings
	total int          // frames to look at
	told  map[int]bool // frames looked at, for the progress
}

func newViewer(ctx context.Context, r runfile.Run, shots []Shot, total int, o Options) *viewer {
	v := &viewer{run: r, o: o, shots: shots, total: total, told: map[int]bool{}}
	v.seen = cache.NewSightings(len(shots), o.Cache, v.lookOnce(ctx))
	return v
}

// lookFor looks at frames under a hint, and everywhere for a ruler of the pitch it tells where a frame shows
// nothing like it.
func (v *viewer) lookFor(ctx context.Context, list []int, h ruler.Hint) error {
	if err := v.look(ctx, list, h); err != nil {
		return err
	}
	var empty []int
	for _, i := range list {
		if b := v.seen.Brief(i); !b.Rows && b.Refusal == "no-ruler" {
			empty = append(empty, i)
		}
	}
	return v.look(ctx, empty, ruler.Hint{Pitch: h.Pitch, Slates: h.Slates})
}

// look looks at the frames of a list, several at a time, and keeps what was seen.
func (v *viewer) look(ctx context.Context, list []int, h ruler.Hint) error {
	h = hinted(v.run, h)
	var mu sync.Mutex
	return parallel.Try(ctx, len(list), v.o.Workers, func(ctx context.Context, k int) error {
		i := list[k]
		seen, err := v.o.Look.at(ctx, v.shots[i].Frame, h)
		mu.Lock()
		defer mu.Unlock()
		v.seen.Saw(i, v.shots[i].Frame, &h, seen)
		v.tell(i)
		return err
	})
}

// lookOnce looks once more at a frame of which the cache lost what was seen.
func (v *viewer) lookOnce(ctx context.Context) func(i int, h ruler.Hint) ruler.Sighting {
	return func(i int, h ruler.Hint) ruler.Sighting {
		seen, err := v.o.Look.at(ctx, v.shots[i].Frame, h)
		if err != nil {
			seen.Refusal = note.Of("unreadable", "again", err)
		}
		return seen
	}
}

// tell reports progress; a frame that is looked at again counts once.
func (v *viewer) tell(i int) {
	v.told[i] = true
	if v.o.Progress != nil {
		v.o.Progress(len(v.told), v.total, v.shots[i].Name)
	}
}
