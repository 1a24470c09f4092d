package calib

import (
	"fmt"
	"math"
	"slices"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// alignFronts settles where the front end lies on the ruler's own scale. The scale is placed to
// a few hundredths of a pixel, an edge to a few tenths; but all frames show the same end of the
// same ruler, so the run's median stands for each.
func (s *reader) alignFronts() {
	front := 0.0
	if s.run.Ruler.Front != nil {
		front = *s.run.Ruler.Front
	}
	if s.run.Ruler.Band {
		front = s.run.Ruler.BandAt
	}
	var off []float64
	for _, i := range s.todo {
		if r := s.readings[i]; r.Status == ruler.StatusRead && r.Front != nil && s.handFront(i) == nil {
			off = append(off, r.Front.Reading-front)
		}
	}
	s.offset = stat.Median(slices.Clone(off))
}

// measure turns each reading into the frame's advance past the line counted from.
func (s *reader) measure(c counted) {
	for _, i := range s.todo {
		f := &s.frames[i]
		r := s.readings[i]
		f.Status, f.Reason = r.Status, r.Reason
		f.Advance, f.U, f.FrontPX, f.PxPerM = 0, 0, ruler.Point{}, 0
		if r.Status != ruler.StatusRead {
			continue
		}
		f.Reading = r
		if why := s.advance(f, i, c); why.Code != "" {
			f.Status, f.Reason = ruler.StatusRefused, why
		}
	}
}

// advance sets a frame's advance and its standard uncertainty, or says why it has none.
func (s *reader) advance(f *FrameResult, i int, c counted) ruler.Reason {
	r, uMoved := s.readings[i], s.movedU[i]
	place, ok := s.frontPlace(r)
	front, uFront, known := s.frontReading(r)
	if hand := s.handFront(i); hand != nil && r.Front != nil {
		front, uFront, known = r.Front.Reading, r.Front.U/r.PxPerM, true
		if s.run.Ruler.Band {
			front -= s.run.Ruler.BandAt
		}
	}
	switch {
	case !ok && r.Coded:
		return ruler.Reason{Code: "front-not-visible", Text: "the ruler's front end is in no picture of the run; state front_mm, its reading: 0 where the strip was glued flush"}
	case !ok || !known:
		return ruler.Reason{Code: "front-not-visible", Text: "the ruler's front end is not in the picture"}
	}
	at, u, _, ok := r.Scale.At(c.line)
	if !ok {
		return ruler.Reason{Code: "off-track", Text: "the ruler lies along the trip line instead of across it"}
	}
	f.Advance = at - front
	f.U = math.Hypot(u, math.Hypot(uFront, uMoved))
	f.FrontPX = place
	f.PxPerM = r.Scale.PxPerM(at)
	if c.given && f.Advance < -4*math.Hypot(f.U, tripU(c)) {
		return ruler.Reason{Code: "before-trip", Text: fmt.Sprintf(
			"the front end lies %.1f mm before the trip line: a false trip, or the line is placed wrongly", -1e3*f.Advance)}
	}
	return ruler.Reason{}
}

func tripU(c counted) float64 {
	if c.counting.TripU == nil {
		return 0
	}
	return *c.counting.TripU
}
