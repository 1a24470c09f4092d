package vision

import (
	"math"

	"leadmark/ruler"
)

// A row can be followed through the gaps between its marks as well as through the marks: where
// the picture resolves them poorly the two look alike along the shortest marks. Past those,
// only the longer marks go on, each by itself; taken for gaps, the two places beside each seem
// long.

// plainSkew is how skew a profile is, at the least, where marks are plainly narrower than gaps: blurred to a wave, both
// look alike.
const plainSkew = 0.8

// setRight follows the marks where the gaps between them were followed: where the lengths say so, and where
// marks lie so close, or are so blurred, that nothing but their lengths and the ink past them tells.
func (f *finding) setRight(g *group) {
	paired := f.pairs()
	if !paired && medianHeight(f.ticks) >= leastContrast && g.pitch0 >= fineMarks*f.s.step && math.Abs(f.tr.skew) > plainSkew {
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
	other.ticks = track(other.tr, g)
	if len(other.ticks) < fewestTicks {
		return
	}
	best, second := f, &other
	order, otherOrder := f.order(), other.order()
	if !other.pairs() && (paired || otherOrder > order) {
		best, second, order, otherOrder = &other, f, otherOrder, order
	}
	if best.inkAgainst(g) && otherOrder > order-doubtfulOrder {
		best = second
	}
	*f = *best
}

const (
	plainInk      = 0.8  // how skew the light past the shortest marks is, at the least, where it tells ink from ground
	doubtfulOrder = 30.0 // nats, of the lengths' order, that such ink outweighs
)

// inkAgainst says whether what stands past the shortest marks is plainly of the other sense: there only the longer ones go on, and
// numerals, so that ink is the smaller part even where it is blurred.
func (f *finding) inkAgainst(g *group) bool {
	_, side := f.lengthsInward()
	ink := f.inkSkew(g, side)
	return math.Abs(ink) > plainInk && (ink < 0) != f.tr.dark
}

// inkSkew is how skew the light is past the shortest marks, to one side, its level taken from the nearest few pitches.
func (f *finding) inkSkew(g *group, way int) float64 {
	const about = 2.5 // pitches to either side
	h := f.q.j1 - f.q.j0 + 1
	a, b := f.q.j1+1+h/6, f.q.j1+1+h/6+max(1, h/2)
	if way < 0 {
		a, b = f.q.j0-1-h/6-max(1, h/2), f.q.j0-1-h/6
	}
	if a < 0 || b >= f.s.nw {
		return 0
	}
	ink := f.s.lessLocal(f.s.profile(a, b, f.q.mid(), f.q.lean), g, about)
	first, last := f.s.col(f.ticks[0].t), f.s.col(f.ticks[len(f.ticks)-1].t)
	for i := range ink {
		if half := about * g.pitch(f.s.t(i)) / f.s.step; float64(i)-half < first || float64(i)+half > last {
			ink[i] = math.NaN() // the ruler's end is none
		}
	}
	return skew(f.s, ink, g)
}

// order is the evidence that the marks' lengths follow a ruler's order.
func (f finding) order() float64 {
	if len(f.ticks) < fewestTicks {
		return math.Inf(-1)
	}
	length, _ := f.lengthsInward()
	marks := make([]ruler.Mark, len(f.ticks))
	for i, k := range f.ticks {
		marks[i] = ruler.Mark{T: k.t, Index: k.index, Length: length[i]}
	}
	return ruler.Order(marks, f.localPitch(len(f.ticks)/2))
}

// pairs says whether the longest marks stand side by side in twos: at least two such pairs, and
// hardly a long mark alone.
func (f finding) pairs() bool {
	if len(f.ticks) < fewestTicks {
		return false
	}
	length, _ := f.lengthsInward()
	usual := median(append([]float64(nil), length...))
	long := func(i int) bool { return length[i] > 1.4*usual }
	together, alone := 0, 0
	for i := 0; i < len(f.ticks); i++ {
		if !long(i) {
			continue
		}
		n := 1
		for i+1 < len(f.ticks) && long(i+1) && f.ticks[i+1].index == f.ticks[i].index+1 {
			i++
			n++
		}
		switch {
		case n == 2:
			together++
		case i != n-1 && i != len(f.ticks)-1: // half of a pair may lie beyond the row's end
			alone++
		}
	}
	return together >= 2 && together > 3*alone
}
