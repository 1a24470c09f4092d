package live

import (
	"context"
	"net/http"
	"sync"
	"time"

	"leadmark/calib"
	"leadmark/calib/read/cache"
	"leadmark/calib/rig"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/desk/places"
	"leadmark/cmd/leadmark/desk/reply"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// Run is one run that is followed: every page that shows it sees the same state.
type Run struct {
	Dir string

	name  string
	root  places.Places
	cache *cache.Cache
	nudge chan struct{}
	store rig.Store
	stop  context.CancelFunc
	used  time.Time // under the lock of all runs

	edits sync.Mutex // one change by hand at a time

	mu       sync.Mutex
	rev      int // grows with every change
	frames   map[string]*seenFrame
	gone     map[string]int // frames taken away, and when
	run      runfile.Run
	result   *calib.Result // the last that told something
	err      error         // why there is none now
	resultAt int           // rev of the result
	answered bool          // a result was worked out, be it an error
	trail    []trailPoint
	waiting  []string
	fatal    error // the folder cannot be looked into
	goal     runfile.Goal
	setting  runfile.ShotCells // how the next frames are shot; empty: as run.toml says
	known    map[string]bool   // frames that were there before the setting was made
	undo     []undoStep
	streams  map[chan struct{}]bool
}

// seenFrame is a frame with the revision at which a page last saw it change.
type seenFrame struct {
	calib.FrameResult
	view FrameView
	rev  int
}

// prepare adds to the run what its folder does not say: the rig's limits, and the goal set on the
// page.
func (r *Run) prepare(run *runfile.Run) {
	if p, err := r.store.Load(run.Rig); err == nil {
		run.Limits, run.Earlier = p.Limits.OfRun(), r.store.Earlier(run.Rig)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	run.Goal = r.goal
}

// change changes the state and tells every page.
func (r *Run) change(do func()) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.rev++
	do()
	for ch := range r.streams {
		select {
		case ch <- struct{}{}:
		default: // it is told already that there is something new
		}
	}
}

// again has the run worked out anew.
func (r *Run) again() {
	select {
	case r.nudge <- struct{}{}:
	default:
	}
}

// mostStreams bounds the pages that show a run at once.
const mostStreams = 64

// Stream is told whenever the state changed, until it is left.
func (r *Run) Stream() (ch chan struct{}, leave func(), err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if len(r.streams) >= mostStreams {
		return nil, nil, reply.Refused(http.StatusTooManyRequests, "too many pages show this run", "close some of them")
	}
	ch = make(chan struct{}, 1)
	r.streams[ch] = true
	return ch, func() {
		r.mu.Lock()
		defer r.mu.Unlock()
		delete(r.streams, ch)
	}, nil
}

// Frame is a frame of the run by its name.
func (r *Run) Frame(name string) (calib.FrameResult, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	f := r.frames[name]
	if f == nil {
		return calib.FrameResult{}, reply.NotFound("there is no such picture in this run")
	}
	return f.FrameResult, nil
}

// Clips are the pictures of a frame's ruler, as they were made while it was read.
func (r *Run) Clips(ctx context.Context, f frame.Frame) (ruler.Clips, error) {
	return r.cache.Clips(ctx, f)
}

// Rev is the revision of the state.
func (r *Run) Rev() int {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.rev
}

// Result is the last result that told something, the revision at which it came, and why there is
// none now.
func (r *Run) Result() (result *calib.Result, at int, failed error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.result, r.resultAt, r.err
}
