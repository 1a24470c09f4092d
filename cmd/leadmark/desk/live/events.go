package live

import (
	"context"
	"reflect"
	"slices"

	"leadmark/calib"
	"leadmark/calib/follow"
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/vision/ruler"
)

// event takes in what happened to the run.
func (r *Run) event(ctx context.Context, e follow.Event) {
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
func (r *Run) put(f calib.FrameResult) {
	v := ViewFrame(f)
	old := r.frames[f.Name]
	if old != nil && old.Digest == f.Digest && old.view.Clip != nil && slices.Equal(old.Corrected, f.Corrected) {
		v.Clip = old.view.Clip
	} else if c, err := r.cache.Clips(context.Background(), f.Frame); err == nil && len(c.Small.JPEG) > 0 {
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
func (r *Run) take(result calib.Result, err error) {
	r.answered, r.err, r.resultAt = true, err, r.rev
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

// listNew adds a frame that came after the setting was made to shots.csv.
func (r *Run) listNew(ctx context.Context, f calib.FrameResult) {
	r.mu.Lock()
	cells, known, method := r.setting, r.known, r.run.Method
	r.mu.Unlock()
	if cells.Empty() || known[f.Name] || f.Status == ruler.StatusLeftOut && f.Reason.Code != read.CodeNotListed {
		return
	}
	if _, err := runfile.AddShots(ctx, r.Dir, method, []string{f.Name}, cells); err != nil {
		r.change(func() { r.err = err })
	}
}
