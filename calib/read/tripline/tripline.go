// Package tripline lays the line in the picture that advances are counted from: the stated one, the
// front end resting in the still, or one of the program's own choice across the track; and moves it
// to where the beam was found to trip.
//
//	what run.toml states, the still, the track --Choose--> Line
package tripline

import (
	"fmt"
	"math"
	"slices"

	"leadmark/calib/input"
	"leadmark/calib/runfile"
	"leadmark/calib/words"
	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// Line is where in the picture advances are counted from.
type Line struct {
	ruler.Line
	Given bool    // stated, or shown by the still; false: of the program's own choice
	U     float64 // m, standard uncertainty along the track of one that is given
}

// Still is the frame in which the front end rests where it just trips.
type Still struct {
	Reading ruler.Reading
	U       float64 // m, standard uncertainty of its place for moves of the camera since
}

// Path is where the rulers of a run travel in the picture.
type Path struct {
	Along    ruler.Point // unit vector of the way
	Fronts   []float64   // how far along it each front end lies, px
	PxPerM   float64
	Outlines [][4]ruler.Point
}

// Choose returns the stated trip line, the front end in the still, or a line of the program's own
// choice across the track. A still that cannot be read is an *input.NoResult.
func Choose(stated *runfile.TripSpec, still *Still, path func() Path) (Line, error) {
	switch {
	case stated != nil && stated.Line != nil:
		return Line{*stated.Line, true, stated.U}, nil
	case still != nil:
		r := still.Reading
		if r.Front == nil || r.Status != ruler.StatusRead {
			return Line{}, &input.NoResult{
				What: fmt.Sprintf("the ruler in the still %s cannot be read", stated.Still),
				Hint: words.Reason(r.Reason) + "\ntake the still again, or leave it out of [trip]"}
		}
		return Line{r.Front.Line, true, math.Hypot(math.Hypot(stated.U, still.U), r.Front.U/r.PxPerM)}, nil
	}
	return Line{Line: path().own()}, nil
}

// Past is the line that lies so many metres past another along the way of travel, where the scale
// is the median of some.
func (p Path) Past(l Line, metres float64, pxPerM []float64) ruler.Line {
	move := p.Along.Mul(metres * stat.Median(slices.Clone(pxPerM)))
	return ruler.Line{A: l.A.Add(move), B: l.B.Add(move)}
}

// own lies across the track, along the rulers' mean front edge, two millimetres behind the rearmost
// front end, so that it crosses every ruler; front ends far behind the others (false trips) are left
// out of that. It ends on the track's two edges.
func (p Path) own() ruler.Line {
	if len(p.Fronts) == 0 {
		return ruler.Line{B: ruler.Point{X: 1}}
	}
	fronts := slices.Sorted(slices.Values(p.Fronts))
	dev := make([]float64, len(fronts))
	mid := stat.Median(slices.Clone(fronts))
	for i, f := range fronts {
		dev[i] = math.Abs(f - mid)
	}
	spread := max(stat.Median(slices.Clone(dev)), 1)
	rear := fronts[0]
	for _, f := range fronts {
		if f > mid-6*spread {
			rear = f
			break
		}
	}
	return p.across(p.Along.Mul(rear - 2e-3*p.PxPerM))
}

// across is the line square to the track through the point at, from one edge of the track to the
// other.
func (p Path) across(at ruler.Point) ruler.Line {
	across := p.Along.Perp()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, outline := range p.Outlines {
		for _, c := range outline {
			w := across.Dot(c)
			lo, hi = min(lo, w), max(hi, w)
		}
	}
	base := p.Along.Mul(p.Along.Dot(at))
	return ruler.Line{A: base.Add(across.Mul(lo)), B: base.Add(across.Mul(hi))}
}
