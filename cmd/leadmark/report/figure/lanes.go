package figure

import "math"

// lanes are heights about a middle at which marks stand side by side, the nearest first: each by
// where its last mark stands. Marks come from left to right, and touch none on another lane, so that
// a mark asks nine places whatever the number of marks.
type lanes [9]float64

func newLanes() *lanes {
	var l lanes
	for k := range l {
		l[k] = math.Inf(-1)
	}
	return &l
}

// place takes the height nearest to the middle, from there, at which a mark of radius r at x touches
// no other; free is false, and the height that of the middle, where there is none.
func (l *lanes) place(x, r float64) (y float64, free bool) {
	for k, last := range l {
		if x-last >= 2.2*r {
			l[k] = x
			return float64((k+1)/2) * 2.3 * r * math.Pow(-1, float64(k)), true
		}
	}
	l[0] = x
	return 0, false
}
