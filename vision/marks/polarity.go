package marks

import (
	"math"

	"leadmark/fit/stat"
	"leadmark/vision/marks/tiles"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// A row can be followed through the gaps between its marks as well as through the marks: where
// the picture resolves them poorly the two look alike along the shortest marks. Past those,
// only the longer marks go on, each by itself; taken for gaps, the two places beside each seem
// long.

// setRight follows the marks where the gaps between them were followed: where the lengths say so,
// and where marks lie so close, or are so blurred, that nothing but their lengths and the ink past
// them tells.
func (f *finding) setRight(g *tiles.Group) {
	order, gaps := f.orders()
	paired := plainlyOfGaps(order, gaps)
	strong := f.plain()
	if !paired && strong && g.Pitch0 >= fineMarks*f.s.step && math.Abs(f.tr.skew) > plainSkew {
		return
	}
	other := *f
	tr := *f.tr
	tr.dark = !tr.dark
	tr.smooth = make([]float64, len(f.tr.smooth))
	for i, v := range f.tr.smooth {
		tr.smooth[i] = -v
	}
	other.tr = &tr
	other.graduations = track(other.tr, g)
	if len(other.graduations) < fewestGraduations {
		return
	}
	best, second := f, &other
	otherOrder, otherGaps := other.orders()
	ofGaps := plainlyOfGaps(otherOrder, otherGaps) // the second
	if !ofGaps && (paired || otherOrder > order) {
		best, second, order, otherOrder, ofGaps = &other, f, otherOrder, order, paired
	}
	if !ofGaps && best.inkAgainst(g) && otherOrder > order-doubtfulOrder {
		best = second
	}
	*f = *best
}

// inkAgainst says whether what stands past the shortest marks is plainly of the other sense: there
// only the longer ones go on, and numerals, so that ink is the smaller part even where it is
// blurred.
func (f *finding) inkAgainst(g *tiles.Group) bool {
	_, side := f.lengthsInward()
	ink := f.inkSkew(g, side)
	return math.Abs(ink) > plainInk && (ink < 0) != f.tr.dark
}

// inkSkew is how skew the light is past the shortest marks, to one side, its level taken from the
// nearest few pitches.
func (f *finding) inkSkew(g *tiles.Group, way int) float64 {
	h := f.q.j1 - f.q.j0 + 1
	a, b := f.q.j1+1+h/inkParts, f.q.j1+1+h/inkParts+max(1, h/2)
	if way < 0 {
		a, b = f.q.j0-1-h/inkParts-max(1, h/2), f.q.j0-1-h/inkParts
	}
	if a < 0 || b >= f.s.nw {
		return 0
	}
	ink := f.s.lessLocal(f.s.profile(a, b, f.q.mid(), f.q.lean), g, inkAbout)
	first, last := f.s.col(f.graduations[0].t), f.s.col(f.graduations[len(f.graduations)-1].t)
	for i := range ink {
		if half := inkAbout * g.Pitch(f.s.t(i)) / f.s.step; float64(i)-half < first || float64(i)+half > last {
			ink[i] = math.NaN() // the ruler's end is none
		}
	}
	clip(ink)
	return skew(f.s, ink, g)
}

// clip bounds a profile's values by so many of its median deviations: a bold band, or the scene
// beyond the ruler's end, would count for more than all ink.
func clip(v []float64) {
	var dev []float64
	for _, x := range v {
		if x == x {
			dev = append(dev, math.Abs(x))
		}
	}
	limit := clipAt * stat.FromMAD * stat.Median(dev)
	for i, x := range v {
		v[i] = max(-limit, min(limit, x)) // what is not seen stays so
	}
}

// orders are the evidence, in nats, that the lengths of what was followed are those of marks in a
// ruler's order, and that they are those of the gaps between such marks.
func (f finding) orders() (ofMarks, ofGaps float64) {
	if len(f.graduations) < fewestGraduations {
		return math.Inf(-1), math.Inf(-1)
	}
	length, _ := f.lengthsInward()
	marks := make([]ruler.Mark, len(f.graduations))
	for i, k := range f.graduations {
		marks[i] = ruler.Mark{T: k.t, Index: k.index, Length: length[i]}
	}
	return scale.Orders(marks, f.localPitch(len(f.graduations)/2))
}

// plainlyOfGaps says whether lengths are plainly in the order of gaps.
func plainlyOfGaps(ofMarks, ofGaps float64) bool { return ofGaps > max(0, ofMarks)+plainlyGaps }
