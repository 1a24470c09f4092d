package mixed

import "math"

const (
	// Floor is the lowest place on the variance path: residuals are never taken as better than a
	// fiftieth of the variance the stated uncertainties promise; log(0.02).
	Floor = -3.912023005428146
	// Below0 is the left-hand side of the joint at 0.
	Below0 = -1e-12
	// Limit is beyond any spread; it guards the search.
	Limit = 80
)

// Maximise finds the restricted maximum likelihood on the path: the root of the score, by Fisher
// scoring kept inside a bracket. It starts at guess, where that is a spread.
func (m *Model) Maximise(guess float64) Point {
	if m.Spare() < 1 {
		return m.At(0)
	}
	if guess > 0 {
		if pt := m.root(0, Limit, m.At(guess)); pt.Y > 1e-6 {
			return pt
		}
	}
	if right := m.At(0); right.score > 0 {
		hi := 1.0
		for m.At(hi).score > 0 && hi < Limit {
			hi *= 2
		}
		return m.root(0, hi, right)
	}
	left := m.At(Below0)
	if left.score >= 0 {
		return m.At(0)
	}
	low := m.At(Floor)
	if low.score <= 0 {
		return low
	}
	return m.root(Floor, Below0, left)
}

// root refines a bracketed root of the score from the point pt inside [lo, hi].
func (m *Model) root(lo, hi float64, pt Point) Point {
	for i := 0; i < 100; i++ {
		if pt.score > 0 {
			lo = pt.Y
		} else {
			hi = pt.Y
		}
		y := pt.Y + pt.score/pt.Info
		if !(y > lo && y < hi) {
			y = (lo + hi) / 2
		}
		if math.Abs(y-pt.Y) < 1e-13*(1+math.Abs(y)) || hi-lo < 1e-14 {
			break
		}
		pt = m.At(y)
	}
	return pt
}
