package follow

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"leadmark/calib"
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/fit/parallel"
	"leadmark/vision/frame"
)

// CodeOutside is why a picture is refused that is a link to elsewhere.
const CodeOutside = "outside"

// Options say how a run is followed.
type Options struct {
	read.Options                    // how its frames are read; Progress is not called
	Overrides    runfile.Overrides  // in the place of run.toml's values
	Prepare      func(*runfile.Run) // adds what the folder does not say, such as limits; may be nil
	Every        time.Duration      // between looks at the folder; 0: 40 ms
	// in its place: when to look, and what time it is, which begins at zero; may be nil
	Ticks <-chan time.Time
	Tell  func(Event) // what happened, one call after another
	// a picture that must not be looked at, as it lies outside what may be shown; may be nil
	Outside func(frame.Frame) bool
	Nudge   chan struct{} // of one place: a value in it has the run worked out anew; may be nil
}

// Event is what happened to a run that is followed: one of the fields says what.
type Event struct {
	Seen *calib.FrameResult // a frame was looked at by itself; its advance comes with the result
	Gone []string           // these frames were taken away
	// what the run tells with the frames there are; its Frames also where Err says why there is no more
	Result  *calib.Result
	Err     error    // with Result: why it tells nothing, or why the run's description cannot be read
	Waiting []string // with Result nil and Seen nil: the files that are being written
}

// Follow reads a run while it is shot: each picture as soon as it is written to its end, and the
// whole anew after each, by calib.Calibrate, whenever a picture came or went or run.toml, shots.csv
// or corrections.toml changed. It returns when ctx ends, without an error, or when the folder
// cannot be looked into any more.
func Follow(ctx context.Context, dir string, o Options) error {
	if o.Every == 0 {
		o.Every = 40 * time.Millisecond
	}
	f := &follower{dir: dir, o: o, frames: map[string]frame.Frame{}, refused: map[string]frame.Refusal{},
		ready: make(chan Event, 1)}
	f.watch = frame.NewWatcher(dir)
	return f.follow(ctx)
}

// follower is a run while it is followed.
type follower struct {
	dir     string
	o       Options
	watch   *frame.Watcher
	ticked  time.Time // the last tick
	frames  map[string]frame.Frame
	refused map[string]frame.Refusal
	waiting []string

	run     runfile.Run
	runErr  error
	stamps  [3]fs.FileInfo // of the files that describe the run
	loaded  bool
	stale   bool       // the last result is not of the frames there are
	working bool       // one is being worked out
	ready   chan Event // where it will come
}

func (f *follower) follow(ctx context.Context) error {
	var wait sync.WaitGroup
	defer wait.Wait()
	for first := true; ; first = false {
		f.reload()
		more, err := f.look(ctx, first)
		if ctx.Err() != nil {
			return nil
		}
		if err != nil {
			return err
		}
		if f.stale && !f.working && !more {
			f.stale, f.working = false, true
			run, runErr, folder := f.run, f.runErr, f.folder()
			wait.Go(func() { f.ready <- f.workOut(ctx, run, runErr, folder) })
		}
		if !f.pause(ctx, more) {
			return nil
		}
	}
}

// pause waits for the next look, and tells a result that comes meanwhile; false when it is time to
// end.
func (f *follower) pause(ctx context.Context, more bool) bool {
	select {
	case <-ctx.Done():
		return false
	case <-f.o.Nudge:
		f.loaded = false
	case e := <-f.ready:
		f.working = false
		if ctx.Err() == nil {
			f.o.Tell(e)
		}
	case f.ticked = <-f.tick(more):
	}
	return true
}

// tick comes when the next look is due: at once where there is more.
func (f *follower) tick(more bool) <-chan time.Time {
	switch {
	case more && f.o.Ticks == nil:
		return time.After(0)
	case more:
		again := make(chan time.Time, 1)
		again <- f.ticked
		return again
	case f.o.Ticks != nil:
		return f.o.Ticks
	}
	return time.After(f.o.Every)
}

// reload reads the description of the run where one of its files changed.
func (f *follower) reload() {
	var now [3]fs.FileInfo
	same := f.loaded
	for i, name := range []string{runfile.RunFileName, runfile.ShotsFileName, runfile.CorrectionsFileName} {
		if info, err := os.Stat(filepath.Join(f.dir, name)); err == nil {
			now[i] = info
		}
		was := f.stamps[i]
		same = same && (was == nil && now[i] == nil || was != nil && now[i] != nil && frame.Unchanged(was, now[i]))
	}
	if same {
		return
	}
	f.loaded, f.stamps, f.stale = true, now, true
	o := f.o.Overrides
	o.Coming = true
	f.run, f.runErr = runfile.Load(f.dir, o)
	if f.runErr == nil && f.o.Prepare != nil {
		f.o.Prepare(&f.run)
	}
}

// look takes in what the folder shows, and looks at the new pictures, several at a time; more says
// that there are others.
func (f *follower) look(ctx context.Context, first bool) (more bool, err error) {
	now := f.ticked
	if f.o.Ticks == nil {
		now = time.Now() // reading took a while since
	}
	c, err := f.watch.Look(now)
	if err != nil {
		return false, err
	}
	f.keepInside(&c)
	for _, name := range c.Gone {
		delete(f.frames, name)
		delete(f.refused, name)
	}
	if len(c.Gone) > 0 {
		f.o.Tell(Event{Gone: c.Gone})
	}
	for _, p := range c.Frames {
		f.frames[p.Name] = p
		delete(f.refused, p.Name)
	}
	for _, r := range c.Refused {
		f.refused[r.Name] = r
		delete(f.frames, r.Name)
	}
	if !slices.Equal(c.Waiting, f.waiting) {
		f.waiting = c.Waiting
		f.o.Tell(Event{Waiting: c.Waiting})
	}
	f.stale = f.stale || !c.Nothing()
	if f.runErr != nil {
		return c.More, nil
	}
	return c.More, f.lookAtNew(ctx, c)
}

// keepInside refuses pictures that must not be looked at.
func (f *follower) keepInside(c *frame.Change) {
	if f.o.Outside == nil {
		return
	}
	c.Frames = slices.DeleteFunc(c.Frames, func(p frame.Frame) bool {
		out := f.o.Outside(p)
		if out {
			c.Refused = append(c.Refused, frame.Refusal{Name: p.Name, Path: p.Path, Note: note.New(CodeOutside)})
		}
		return out
	})
}

// lookAtNew looks at new pictures by themselves and tells each at once.
func (f *follower) lookAtNew(ctx context.Context, c frame.Change) error {
	var mu sync.Mutex
	var errs []error
	parallel.Each(len(c.Frames), f.o.Workers, func(k int) {
		s, err := read.One(ctx, f.run, c.Frames[k], f.o.Options)
		mu.Lock()
		defer mu.Unlock()
		if err != nil {
			errs = append(errs, err)
			return
		}
		f.o.Tell(Event{Seen: &calib.FrameResult{Shot: s}})
	})
	if len(c.Refused) > 0 {
		for _, s := range read.Assign(f.run, read.Folder{Refused: c.Refused}) {
			f.o.Tell(Event{Seen: &calib.FrameResult{Shot: s}})
		}
	}
	return errors.Join(errs...)
}

// folder is what there is now, in the order of a listing.
func (f *follower) folder() read.Folder {
	var all read.Folder
	for _, p := range f.frames {
		all.Frames = append(all.Frames, p)
	}
	for _, r := range f.refused {
		all.Refused = append(all.Refused, r)
	}
	slices.SortFunc(all.Frames, func(a, b frame.Frame) int { return frame.CompareNames(a.Name, b.Name) })
	slices.SortFunc(all.Refused, func(a, b frame.Refusal) int { return frame.CompareNames(a.Name, b.Name) })
	return all
}

// workOut is what the run tells now.
func (f *follower) workOut(ctx context.Context, run runfile.Run, runErr error, folder read.Folder) Event {
	if runErr != nil {
		return Event{Result: &calib.Result{}, Err: runErr}
	}
	o := f.o.Options
	o.Progress = nil
	r, err := calib.Calibrate(ctx, run, folder, o)
	if r.Frames == nil {
		r.Run, r.Rig = run, run.Rig
		for _, s := range read.Assign(run, folder) {
			r.Frames = append(r.Frames, calib.FrameResult{Shot: s})
		}
	}
	f.o.Cache.Flush()
	return Event{Result: &r, Err: err}
}
