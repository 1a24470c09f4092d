package still

import (
	"math"

	"leadmark/vision/ruler"
)

// identical says whether two rows are all of the same marks in the same place: not only do they
// stand where those stand, as every whole graduation on, but long ones where long ones do, from one
// end of the ruler to the other.
func identical(a, b ruler.Row) bool {
	return sameRow(a, b) && sameEnds(a, b) && sameLengths(a, b)
}

// sameEnds says whether two rows begin and end in the same places, but for marks at either end that
// one of them lacks.
func sameEnds(a, b ruler.Row) bool {
	off := func(m ruler.Mark, other ruler.Mark) float64 {
		return math.Abs(b.Along(a.Origin.Add(a.Dir.Mul(m.T)))-other.T) / b.Pitch
	}
	first, last := b.Marks[0], b.Marks[len(b.Marks)-1]
	if a.Dir.Dot(b.Dir) < 0 {
		first, last = last, first
	}
	return max(off(a.Marks[0], first), off(a.Marks[len(a.Marks)-1], last)) < ruler.StrayMarks
}

// sameLengths says whether the marks that stand in the same places are long and short alike, as
// well as they are with the one row set against the other so many graduations further on. Rows whose
// marks are all of a length are.
func sameLengths(a, b ruler.Row) bool {
	var one, other []float64
	for _, k := range a.Marks {
		t := b.Along(a.Origin.Add(a.Dir.Mul(k.T)))
		if m := b.Marks[nearest(b.Marks, t)]; math.Abs(m.T-t) < samePlace && !m.Cut && !k.Cut {
			one, other = append(one, k.Length), append(other, m.Length)
		}
	}
	here, best := apart(one, other), math.Inf(1)
	for k := 1; k <= orders && 2*k < len(one); k++ {
		best = min(best, apart(one[k:], other), apart(one, other[k:]))
	}
	return here <= lengthsApart*best
}

// apart is the mean difference of values side by side, as far as both go.
func apart(a, b []float64) (mean float64) {
	n := min(len(a), len(b))
	for i := range n {
		mean += math.Abs(a[i]-b[i]) / float64(n)
	}
	return mean
}

// sameRow says whether two rows may be the same marks in the same place. Something may hide other
// parts of them in other frames. Marks repeat, so a ruler let fall again may show them at the same
// places along its axis, but its axis then lies a little aside.
func sameRow(a, b ruler.Row) bool {
	turn, stretch := max(turnedBy, loose(a), loose(b)), stretchedBy
	if few, many := min(len(a.Marks), len(b.Marks)), max(len(a.Marks), len(b.Marks)); float64(few) < wholeRow*float64(many) {
		stretch = stretchedByHalf // of a row that is half hidden it is known less well
	}
	if math.Abs(a.Dir.Cross(b.Dir)) > turn || math.Abs(a.Pitch/b.Pitch-1) > stretch {
		return false
	}
	reach := a.HalfLength + b.HalfLength
	near, seen, aside := 0, 0, 0.0
	for _, k := range a.Marks {
		p := a.Origin.Add(a.Dir.Mul(k.T))
		if math.Abs(b.Dir.Cross(p.Sub(b.Origin))) > reach {
			return false
		}
		t := b.Along(p)
		if t < b.Marks[0].T-b.Pitch || t > b.Marks[len(b.Marks)-1].T+b.Pitch {
			continue
		}
		seen++
		aside += b.Dir.Cross(p.Sub(b.Origin))
		if math.Abs(b.Marks[nearest(b.Marks, t)].T-t) < samePlace {
			near++
		}
	}
	return 2*seen >= len(a.Marks) && float64(near) >= mostNear*float64(seen) && math.Abs(aside) < float64(seen)*(asidePX+asidePitches*a.Pitch)
}

// loose is how far a row's axis may be turned, rad: it may leave the middle of the shortest marks
// by a quarter of their length at either end.
func loose(r ruler.Row) float64 {
	return looseEnds * r.HalfLength / max(r.Pitch, r.Marks[len(r.Marks)-1].T-r.Marks[0].T)
}

// nearest is which mark is nearest to t.
func nearest(marks []ruler.Mark, t float64) int {
	lo, hi := 0, len(marks)-1
	for hi-lo > 1 {
		if m := (lo + hi) / 2; marks[m].T < t {
			lo = m
		} else {
			hi = m
		}
	}
	if math.Abs(marks[lo].T-t) <= math.Abs(marks[hi].T-t) {
		return lo
	}
	return hi
}
