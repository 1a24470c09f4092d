package desk

import (
	"context"
	"net/http"
	"reflect"
	"slices"
	"sync"
	"time"

	"leadmark/calib"
	"leadmark/calib/follow"
	"leadmark/calib/read"
	"leadmark/calib/read/cache"
	"leadmark/calib/rig"
	"leadmark/calib/runfile"
	"leadmark/calib/store"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// session is one run that is followed: every page that shows it sees the same state.
type session struct {
	name, dir string
	root      places
	memory    *cache.Cache
	nudge     chan struct{}
	store     rig.Store
	stop      context.CancelFunc
	used      time.Time // under the lock of all sessions

	edits sync.Mutex // one change by hand at a time

	mu       sync.Mutex
	rev      int // grows with every change
	frames   map[string]*seenFrame
	gone     map[string]int // frames taken away, and when
	run      runfile.Run
	result   *calib.Result // the last that told something
	err      error         // why there is none now
	resultAt int           // rev of the result
	settled  bool          // a result was worked out, be it an error
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
	view frameView
	rev  int
}

// trailPoint is what the run told when so many frames were read.
type trailPoint struct {
	N    int     `json:"n"`
	Lag  float64 `json:"lag_ms"`
	Low  float64 `json:"low_ms"`
	High float64 `json:"high_ms"`
}

// undoStep is what was before a change by hand.
type undoStep struct {
	before runfile.Corrections
	text   string // what the change was
}

// sessions are the runs that are followed.
type sessions struct {
	mu   sync.Mutex
	all  map[string]*session
	done sync.WaitGroup
}

// mostSessions bounds the runs that are followed at once; the one that nobody has looked at for
// longest makes room.
const mostSessions = 12

func (a *sessions) wait() { a.done.Wait() }

// session is the run of a name, followed from now on.
func (s *Server) session(name string) (*session, error) {
	dir, err := s.places.find(runPlace, name)
	if err != nil {
		return nil, err
	}
	a := &s.sessions
	a.mu.Lock()
	defer a.mu.Unlock()
	if r := a.all[name]; r != nil {
		r.used = time.Now()
		return r, nil
	}
	if len(a.all) >= mostSessions && !a.makeRoom() {
		return nil, refused(http.StatusTooManyRequests, "too many runs are open at once", "close some of their pages")
	}
	store.Sweep(store.System(), dir)
	memory := cache.Open(dir, s.o.Program)
	r := &session{name: name, dir: dir, root: s.places, memory: memory, nudge: make(chan struct{}, 1), store: s.o.Rigs,
		frames: map[string]*seenFrame{}, gone: map[string]int{}, streams: map[chan struct{}]bool{}, used: time.Now()}
	ctx, stop := context.WithCancel(s.ctx)
	r.stop = stop
	a.all[name] = r
	a.done.Go(func() {
		defer stop()
		s.follow(ctx, r)
		a.mu.Lock()
		defer a.mu.Unlock()
		if a.all[name] == r {
			delete(a.all, name)
		}
	})
	return r, nil
}

// makeRoom leaves the run that no page shows and that nobody has asked for for longest; false where
// all are shown.
func (a *sessions) makeRoom() bool {
	var oldest *session
	for _, r := range a.all {
		r.mu.Lock()
		shown := len(r.streams) > 0
		r.mu.Unlock()
		if !shown && (oldest == nil || r.used.Before(oldest.used)) {
			oldest = r
		}
	}
	if oldest == nil {
		return false
	}
	oldest.stop()
	delete(a.all, oldest.name)
	return true
}

// follow follows a run until the server ends or its folder is gone.
func (s *Server) follow(ctx context.Context, r *session) {
	err := follow.Follow(ctx, r.dir, follow.Options{
		Options: read.Options{Look: r.memory.Look(s.o.Look), Cache: r.memory, Shift: s.o.Shift},
		Prepare: r.prepare, Tell: func(e follow.Event) { r.event(ctx, e) }, Nudge: r.nudge,
		Outside: func(f frame.Frame) bool { return !r.root.inside(r.name + "/" + f.Name) },
	})
	r.memory.Close()
	r.change(func() { r.fatal = err })
}

// prepare adds to the run what its folder does not say: the rig's limits, and the goal set on the page.
func (r *session) prepare(run *runfile.Run) {
	if p, err := r.store.Load(run.Rig); err == nil {
		run.Limits, run.Earlier = p.Limits.OfRun(), r.store.Earlier(run.Rig)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	run.Goal = r.goal
}

// change changes the state and tells every page.
func (r *session) change(do func()) {
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
func (r *session) again() {
	select {
	case r.nudge <- struct{}{}:
	default:
	}
}

// event takes in what happened to the run.
func (r *session) event(ctx context.Context, e follow.Event) {
	switch {
	case e.Seen != nil:
		r.listNew(ctx, *e.Seen)
		r.change(func() { r.put(*e.Seen) })
	case len(e.Gone) > 0:
		r.change(func() {
			for _, name := range e.Gone {
				delete(r.frames, name)
				r.gone[name] = r.rev
			}
		})
	case e.Result != nil:
		r.change(func() { r.take(*e.Result, e.Err) })
	default:
		r.change(func() { r.waiting = e.Waiting })
	}
}

// put keeps a frame; pages are told of it only where they would show it otherwise.
func (r *session) put(f calib.FrameResult) {
	v := viewFrame(f)
	old := r.frames[f.Name]
	if old != nil && old.Digest == f.Digest && old.view.Clip != nil && slices.Equal(old.Corrected, f.Corrected) {
		v.Clip = old.view.Clip
	} else if c, err := r.memory.Clips(context.Background(), f.Frame); err == nil && len(c.Small.JPEG) > 0 {
		v.Clip = &[5]float64{c.Small.Left, c.Small.Top, c.Small.Scale, float64(c.Small.Width), float64(c.Small.Height)}
	}
	if old != nil && reflect.DeepEqual(old.view, v) {
		old.FrameResult = f
		return
	}
	delete(r.gone, f.Name)
	r.frames[f.Name] = &seenFrame{f, v, r.rev}
}

// take keeps a result, and what it says of the frames.
func (r *session) take(result calib.Result, err error) {
	r.settled, r.err, r.resultAt = true, err, r.rev
	var frames []calib.FrameResult
	for _, f := range result.Frames {
		if f.Status != "" { // one that was not looked at says nothing new
			frames = append(frames, f)
		}
	}
	for _, f := range frames {
		r.put(f)
	}
	if result.Run.Method != "" {
		r.run = result.Run
	}
	if err != nil {
		return
	}
	r.result = &result
	go r.retrace(result)
}

// mostTrail bounds the points of the drawing that shows how the lag became known.
const mostTrail = 40

// retrace works out how the lag became known, beside the rest: the answer does not wait for it.
func (r *session) retrace(result calib.Result) {
	var trail []trailPoint
	for _, p := range calib.Trail(result, mostTrail) {
		trail = append(trail, trailPoint{p.N, p.Lag * 1e3, p.Low * 1e3, p.High * 1e3})
	}
	r.mu.Lock()
	stale := r.result == nil || r.result.RunSHA256 != result.RunSHA256
	r.mu.Unlock()
	if !stale {
		r.change(func() { r.trail = trail })
	}
}

// listNew adds a frame that came after the setting was made to shots.csv.
func (r *session) listNew(ctx context.Context, f calib.FrameResult) {
	r.mu.Lock()
	cells, known, method := r.setting, r.known, r.run.Method
	r.mu.Unlock()
	if cells.Empty() || known[f.Name] || f.Status == ruler.StatusLeftOut && f.Reason.Code != read.CodeNotListed {
		return
	}
	if _, err := runfile.AddShots(ctx, r.dir, method, []string{f.Name}, cells); err != nil {
		r.change(func() { r.err = err })
	}
}

// stream is told whenever the state changed, until it is left.
func (r *session) stream() (ch chan struct{}, leave func(), err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if len(r.streams) >= mostStreams {
		return nil, nil, refused(http.StatusTooManyRequests, "too many pages show this run", "close some of them")
	}
	ch = make(chan struct{}, 1)
	r.streams[ch] = true
	return ch, func() {
		r.mu.Lock()
		defer r.mu.Unlock()
		delete(r.streams, ch)
	}, nil
}

// frame is a frame of the run by its name.
func (r *session) frame(name string) (calib.FrameResult, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	f := r.frames[name]
	if f == nil {
		return calib.FrameResult{}, notFound("there is no such picture in this run")
	}
	return f.FrameResult, nil
}

// sleepless keeps a stream alive through proxies and sleeping pages.
const sleepless = 15 * time.Second
