package read

import (
	"fmt"
	"math"
	"slices"

	"leadmark/calib/words"
	"leadmark/fit/stat"

	"leadmark/calib/input"
	"leadmark/vision/ruler"
)

// Line is where in the picture advances are counted from.
type Line struct {
	ruler.Line
	Given bool    // stated, or shown by the still; false: of the program's own choice
	U     float64 // m, standard uncertainty along the track of one that is given
}

// Line is the stated trip line, the front end in the still, or a line of the program's own choice
// across the track. A still that cannot be read is an *input.NoResult.
func (g Readings) Line() (Line, error) {
	t := g.run.Trip
	switch {
	case t != nil && t.Line != nil:
		return Line{*t.Line, true, t.U}, nil
	case g.still != nil:
		if g.still.Front == nil || g.still.Status != ruler.StatusRead {
			return Line{}, &input.NoResult{
				What: fmt.Sprintf("the ruler in the still %s cannot be read", t.Still),
				Hint: words.Reason(g.still.Reason) + "\ntake the still again, or leave it out of [trip]"}
		}
		return Line{g.still.Front.Line, true, math.Hypot(math.Hypot(t.U, g.stillU),
			g.still.Front.U/g.still.PxPerM)}, nil
	}
	return Line{Line: g.ownLine()}, nil
}

// Past is the line that lies so many metres past another along the way of travel, where the scale
// is the median of some.
func (g Readings) Past(l Line, metres float64, pxPerM []float64) ruler.Line {
	along, _ := g.track()
	move := along.Mul(metres * stat.Median(slices.Clone(pxPerM)))
	return ruler.Line{A: l.A.Add(move), B: l.B.Add(move)}
}

// ownLine lies across the track, along the rulers' mean front edge, two millimetres behind the
// rearmost front end, so that it crosses every ruler; front ends far behind the others (false
// trips) are left out of that. It ends on the track's two edges.
func (g Readings) ownLine() ruler.Line {
	along, fronts := g.track()
	if len(fronts) == 0 {
		return ruler.Line{B: ruler.Point{X: 1}}
	}
	slices.Sort(fronts)
	dev := make([]float64, len(fronts))
	mid := stat.Median(slices.Clone(fronts))
	for i, p := range fronts {
		dev[i] = math.Abs(p - mid)
	}
	spread := max(stat.Median(slices.Clone(dev)), 1)
	rear := fronts[0]
	for _, p := range fronts {
		if p > mid-6*spread {
			rear = p
			break
		}
	}
	at := along.Mul(rear - 2e-3*pxPerM(g.front.placed(g.list)))
	return g.acrossTrack(at, along)
}

// track returns the mean direction of the rulers' axes, the way they travel, and how far along
// it each front end lies, px.
func (g Readings) track() (along ruler.Point, fronts []float64) {
	placed := g.front.placed(g.list)
	for _, r := range placed {
		along = along.Add(wayOf(g.run, r))
	}
	along = along.Unit()
	for _, r := range placed {
		at, _ := g.front.place(r)
		fronts = append(fronts, along.Dot(at))
	}
	return along, fronts
}

// acrossTrack is the line square to the axis through the point at, from one edge of the track
// to the other.
func (g Readings) acrossTrack(at, along ruler.Point) ruler.Line {
	across := along.Perp()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range g.front.placed(g.list) {
		for _, c := range r.Outline {
			w := across.Dot(c)
			lo, hi = min(lo, w), max(hi, w)
		}
	}
	base := along.Mul(along.Dot(at))
	return ruler.Line{A: base.Add(across.Mul(lo)), B: base.Add(across.Mul(hi))}
}
