package fit

import "math"

// yFloor is the lowest place on the variance path: residuals are never taken as better than a
// fiftieth of the variance the stated uncertainties promise.
var yFloor = math.Log(0.02)

const (
	yBelow0 = -1e-12 // the left-hand side of the joint at 0
	yLimit  = 80     // beyond any spread; guards the search
)

// maximise finds the restricted maximum likelihood on the path: the root of the score, by Fisher
// scoring kept inside a bracket. It starts at guess, where that is a spread.
func (m *linear) maximise(guess float64) point {
	if m.spare() < 1 {
		return m.at(0)
	}
	if guess > 0 {
		if pt := m.root(0, yLimit, m.at(guess)); pt.y > 1e-6 {
			return pt
		}
	}
	if right := m.at(0); right.score > 0 {
		hi := 1.0
		for m.at(hi).score > 0 && hi < yLimit {
			hi *= 2
		}
		return m.root(0, hi, right)
	}
	left := m.at(yBelow0)
	if left.score >= 0 {
		return m.at(0)
	}
	low := m.at(yFloor)
	if low.score <= 0 {
		return low
	}
	return m.root(yFloor, yBelow0, left)
}

// root refines a bracketed root of the score from the point pt inside [lo, hi].
func (m *linear) root(lo, hi float64, pt point) point {
	for i := 0; i < 100; i++ {
		if pt.score > 0 {
			lo = pt.y
		} else {
			hi = pt.y
		}
		y := pt.y + pt.score/pt.info
		if !(y > lo && y < hi) {
			y = (lo + hi) / 2
		}
		if math.Abs(y-pt.y) < 1e-13*(1+math.Abs(y)) || hi-lo < 1e-14 {
			break
		}
		pt = m.at(y)
	}
	return pt
}

// absurdLag is where the search for the lag is given up, s.
const absurdLag = 20.0

// solve iterates linearisation and restricted likelihood until the unknowns stand still. A lag
// that runs away (speeds alike within their uncertainty) is held where it started and marked.
func (l *layout) solve(start, weight []float64) (*linear, point) {
	m, pt, ok := l.iterate(start, weight)
	if !ok && !l.heldLag {
		l.heldLag = true
		m, pt, _ = l.iterate(start, weight)
	}
	return m, pt
}

func (l *layout) iterate(start, weight []float64) (*linear, point, bool) {
	theta := append([]float64(nil), start...)
	m := l.linearise(theta, weight, 0, nil)
	pt := m.maximise(0)
	for i := 0; i < 40; i++ {
		if !pt.ok || !(math.Abs(theta[colLag]+pt.step[colLag]) < absurdLag) {
			return m, pt, false
		}
		next := make([]float64, l.p)
		moved := 0.0
		for j := range next {
			next[j] = theta[j] + pt.step[j]
			if v := pt.cov[j*l.p+j]; v > 0 {
				moved = math.Max(moved, math.Abs(pt.step[j])/math.Sqrt(v))
			}
		}
		theta = next
		m = l.linearise(theta, weight, pt.t, l.adjustSpeeds(theta, m, pt))
		pt = m.maximise(pt.y)
		if moved < 1e-10 {
			break
		}
	}
	return m, pt, pt.ok
}

// adjustSpeeds moves each measured speed to where the reading pulls it: error SpeedU is in the
// measured value, not in the true one, so a fit on the raw values would flatten the line.
// Source: York, Evensen, Martinez, De Basabe Delgado, Am. J. Phys. 72 (2004) 367.
func (l *layout) adjustSpeeds(theta []float64, m *linear, pt point) []float64 {
	var eiv []float64
	for i, s := range l.run.Shots {
		if s.SpeedU > 0 && l.groupOf[i] < 0 && s.Drop == 0 {
			if eiv == nil {
				eiv = make([]float64, len(l.run.Shots))
			}
			if w := m.weight[i]; w > 0 { // the speed's variance is taken as much smaller or larger as the shot's
				eiv[i] = (theta[colLag] + s.Delay) * s.SpeedU * s.SpeedU * pt.shrink / w * pt.wres[i]
			}
		}
	}
	return eiv
}
