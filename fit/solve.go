package fit

import (
	"math"

	"leadmark/fit/mixed"
	"leadmark/fit/outlier"
)

// solution is the fit of a run with its verdict on every shot.
type solution struct {
	*layout
	*outlier.Fit
}

// review fits and finds the odd shots.
func (l *layout) review() *solution {
	theta, far := l.start()
	all := make([]float64, len(far))
	for i := range all {
		all[i] = 1
	}
	search := outlier.Search{Solve: l.solve, Batches: shotsOf(batches(l.run.Shots))}
	return &solution{l, search.Review(l.linearise(theta, all, 0, nil), far)}
}

// judge fits with the odd shots left out.
func (l *layout) judge(theta []float64, odd []bool) *solution {
	return &solution{l, outlier.Judge(l.solve, theta, odd, nil)}
}

// absurdLag is where the search for the lag is given up, s.
const absurdLag = 20.0

// solve iterates linearisation and restricted likelihood until the unknowns stand still. A lag
// that runs away (speeds alike within their uncertainty) is held where it started and marked.
func (l *layout) solve(start, weight []float64) (*mixed.Model, mixed.Point) {
	m, pt, ok := l.iterate(start, weight)
	if !ok && !l.heldLag {
		l.heldLag = true
		m, pt, _ = l.iterate(start, weight)
	}
	return m, pt
}

func (l *layout) iterate(start, weight []float64) (*mixed.Model, mixed.Point, bool) {
	theta := append([]float64(nil), start...)
	m := l.linearise(theta, weight, 0, nil)
	pt := m.Maximise(0)
	for i := 0; i < 40; i++ {
		if !pt.OK || !(math.Abs(theta[colLag]+pt.Step[colLag]) < absurdLag) {
			return m, pt, false
		}
		next := make([]float64, l.p)
		moved := 0.0
		for j := range next {
			next[j] = theta[j] + pt.Step[j]
			if v := pt.Cov[j*l.p+j]; v > 0 {
				moved = math.Max(moved, math.Abs(pt.Step[j])/math.Sqrt(v))
			}
		}
		theta = next
		m = l.linearise(theta, weight, pt.T, l.adjustSpeeds(theta, m, pt))
		pt = m.Maximise(pt.Y)
		if moved < 1e-10 {
			break
		}
	}
	return m, pt, pt.OK
}

// adjustSpeeds moves each measured speed to where the reading pulls it: error SpeedU is in the
// measured value, not in the true one, so a fit on the raw values would flatten the line.
// Source: York, Evensen, Martinez, De Basabe Delgado, Am. J. Phys. 72 (2004) 367.
func (l *layout) adjustSpeeds(theta []float64, m *mixed.Model, pt mixed.Point) []float64 {
	var eiv []float64
	for i, s := range l.run.Shots {
		if s.SpeedU > 0 && l.groupOf[i] < 0 && s.Drop == 0 {
			if eiv == nil {
				eiv = make([]float64, len(l.run.Shots))
			}
			if w := m.Weight[i]; w > 0 { // the speed's variance is taken as much smaller or larger as the shot's
				eiv[i] = (theta[colLag] + s.Delay) * s.SpeedU * s.SpeedU * pt.Shrink / w * pt.WRes[i]
			}
		}
	}
	return eiv
}
