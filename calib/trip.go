package calib

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// counted is the line that advances are counted from.
type counted struct {
	line     ruler.Line
	counting Counting
	given    bool // stated, or shown by the still; false: of the program's own choice
}

// countingLine is the stated trip line, the front end in the still, or a line of the program's
// own choice across the track.
func (s *reader) countingLine() (counted, error) {
	t := s.run.Trip
	switch {
	case t != nil && t.Line != nil:
		return given(*t.Line, t.U), nil
	case s.still != nil:
		if s.still.Front == nil || s.still.Status != ruler.StatusRead {
			return counted{}, &NoResultError{
				What: fmt.Sprintf("the ruler in the still %s cannot be read", t.Still),
				Hint: s.still.Reason.String() + "\ntake the still again, or leave it out of [trip]"}
		}
		return given(s.still.Front.Line, math.Hypot(math.Hypot(t.U, s.stillU), s.still.Front.U/s.still.PxPerM)), nil
	}
	l := s.ownLine()
	return counted{line: l, counting: Counting{Line: &l}}, nil
}

func given(l ruler.Line, u float64) counted {
	return counted{line: l, counting: Counting{Line: &l, TripU: &u}, given: true}
}

// ownLine lies across the track, along the rulers' mean front edge, two millimetres behind the
// rearmost front end, so that it crosses every ruler; front ends far behind the others (false
// trips) are left out of that. It ends on the track's two edges.
func (s *reader) ownLine() ruler.Line {
	along, fronts := s.track()
	if len(fronts) == 0 {
		return ruler.Line{B: ruler.Point{X: 1}}
	}
	sort.Float64s(fronts)
	dev := make([]float64, len(fronts))
	mid := stat.Median(slices.Clone(fronts))
	for i, p := range fronts {
		dev[i] = abs(p - mid)
	}
	spread := max(stat.Median(slices.Clone(dev)), 1)
	rear := fronts[0]
	for _, p := range fronts {
		if p > mid-6*spread {
			rear = p
			break
		}
	}
	at := along.Mul(rear - 2e-3*s.pxPerM())
	return s.acrossTrack(at, along)
}

// track returns the mean direction of the rulers' axes, the way they travel, and how far along
// it each front end lies, px.
func (s *reader) track() (along ruler.Point, fronts []float64) {
	way := s.run.Travel.direction()
	for _, r := range s.read() {
		d := r.Scale.Dir
		if d.Dot(way) < 0 {
			d = d.Mul(-1)
		}
		along = along.Add(d)
	}
	along = along.Unit()
	for _, r := range s.read() {
		at, _ := s.frontPlace(r)
		fronts = append(fronts, along.Dot(at))
	}
	return along, fronts
}

// acrossTrack is the line square to the axis through the point at, from one edge of the track
// to the other.
func (s *reader) acrossTrack(at, along ruler.Point) ruler.Line {
	across := along.Perp()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range s.read() {
		for _, c := range r.Outline {
			w := across.Dot(c)
			lo, hi = min(lo, w), max(hi, w)
		}
	}
	base := along.Mul(along.Dot(at))
	return ruler.Line{A: base.Add(across.Mul(lo)), B: base.Add(across.Mul(hi))}
}

// read lists the readings of the frames that were read and whose front end has a place.
func (s *reader) read() []ruler.Reading {
	var out []ruler.Reading
	for _, i := range s.todo {
		r := s.readings[i]
		if _, ok := s.frontPlace(r); ok && r.Status == ruler.StatusRead {
			out = append(out, r)
		}
	}
	return out
}

func (s *reader) pxPerM() float64 {
	var v []float64
	for _, r := range s.read() {
		v = append(v, r.PxPerM)
	}
	return stat.Median(slices.Clone(v))
}

// tripLine is the true trip place in the picture, where it is known: the line counted from,
// moved by the trip offset along the way of travel.
func (s *reader) tripLine(r Result, c counted) *ruler.Line {
	if r.Fit.TripOffset == nil {
		if !c.given {
			return nil
		}
		return &c.line
	}
	along, _ := s.track()
	var scale []float64
	for _, f := range r.Frames {
		if f.Status == ruler.StatusRead {
			scale = append(scale, f.PxPerM)
		}
	}
	move := along.Mul(r.Fit.TripOffset.Value * stat.Median(slices.Clone(scale)))
	return &ruler.Line{A: c.line.A.Add(move), B: c.line.B.Add(move)}
}
