package live

import (
	"context"
	"net/http"
	"time"

	"leadmark/calib/follow"
	"leadmark/calib/read"
	"leadmark/calib/read/cache"
	"leadmark/calib/store"
	"leadmark/cmd/leadmark/desk/places"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/vision/frame"
)

// Open is the run of a name, followed from now on until ctx ends.
func (a *Runs) Open(ctx context.Context, name string) (*Run, error) {
	dir, err := a.Places.Find(places.Run, name)
	if err != nil {
		return nil, err
	}
	a.mu.Lock()
	defer a.mu.Unlock()
	if r := a.all[name]; r != nil {
		r.used = time.Now()
		return r, nil
	}
	if len(a.all) >= mostRuns && !a.makeRoom() {
		return nil, reply.Refused(http.StatusTooManyRequests, "too many runs are open at once",
			"close some of their pages")
	}
	store.Cleanup(store.System(), dir)
	seen := cache.Open(dir, a.Program())
	r := &Run{name: name, Dir: dir, root: a.Places, cache: seen, nudge: make(chan struct{}, 1), store: a.Rigs,
		frames: map[string]*seenFrame{}, gone: map[string]int{}, streams: map[chan struct{}]bool{}, used: time.Now()}
	ctx, stop := context.WithCancel(ctx)
	r.stop = stop
	if a.all == nil {
		a.all = map[string]*Run{}
	}
	a.all[name] = r
	a.done.Go(func() {
		defer stop()
		a.follow(ctx, r)
		a.mu.Lock()
		defer a.mu.Unlock()
		if a.all[name] == r {
			delete(a.all, name)
		}
	})
	return r, nil
}

// follow follows a run until the server ends or its folder is gone.
func (a *Runs) follow(ctx context.Context, r *Run) {
	err := follow.Follow(ctx, r.Dir, follow.Options{
		Options: read.Options{Look: r.cache.Look(a.Look), Cache: r.cache, Shift: a.Shift},
		Prepare: r.prepare, Tell: func(e follow.Event) { r.event(ctx, e) }, Nudge: r.nudge,
		Outside: func(f frame.Frame) bool { return !r.root.Inside(r.name + "/" + f.Name) },
	})
	r.cache.Close()
	r.change(func() { r.fatal = err })
}
