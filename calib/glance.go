package calib

import (
	"context"

	"leadmark/calib/runfile"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// Glance looks at one frame of a run by itself, as Calibrate would when it comes to it: what is seen is remembered in
// o.Memory, so that Calibrate does not look again. Status, Reason, Reading and, where the front end was found, its place
// are set; an advance needs the other frames. A frame that is no shot is left out with its reason.
func Glance(ctx context.Context, run runfile.Run, f frame.Frame, o Options) (FrameResult, error) {
	s := &reader{run: run, o: o, frames: Assign(run, Folder{Frames: []frame.Frame{f}}), movedU: map[int]float64{}, marked: map[int]bool{}}
	e := &s.frames[0]
	if e.Status != "" && e.Reason.Code != CodeStill && e.Reason.Code != CodeNotListed {
		return *e, nil
	}
	s.sights, s.readings = newSights(1, o.Memory, s.lookOnce(ctx)), make([]ruler.Reading, 1)
	s.todo = []int{0}
	h := scouting
	var k Settled
	if o.Memory.OfRun(specOf(run).String(), &k) {
		h, s.lying, s.like = k.Hint, k.Lying, &k.Like
	}
	if err := s.lookFor(ctx, []int{0}, h); err != nil {
		return *e, err
	}
	if err := s.lookMarked(ctx); err != nil {
		return *e, err
	}
	s.moving(func(i int, r ruler.Reading) { s.readings[i] = r })
	s.placeFronts()
	s.glanced(e)
	return *e, nil
}

// glanced writes down what one frame shows by itself.
func (s *reader) glanced(e *FrameResult) {
	r := s.readings[0]
	e.Reading = r
	if e.Status != "" { // a still, or a frame that nobody listed: no shot yet
		return
	}
	e.Status, e.Reason = r.Status, r.Reason
	if slate, is, _ := runfile.ParseSlate(s.sights.brief[0].symbol.Text); is && r.Status != ruler.StatusRead {
		sl := shown{Slate: slate}
		e.leaveOut(CodeSlate, sl.says())
		return
	}
	if r.Status != ruler.StatusRead {
		e.Reading = ruler.Reading{}
		return
	}
	if p, ok := s.frontPlace(r); ok {
		e.FrontPX, e.PxPerM = p, r.PxPerM
	}
}
