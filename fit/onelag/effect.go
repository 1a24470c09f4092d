package onelag

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/fit/mixed"
	"leadmark/fit/note"
	"leadmark/fit/outlier"
)

// Effect is what adding columns to the fitted model gives: lag_i = L + sum gamma_k w_ik.
type Effect struct {
	F, P        float64 // of the F test
	Size, SizeU float64 // s, gamma and its standard uncertainty, of a single column
}

// check is a test that was made, with what it found.
func (e Effect) check(found note.Note) Check {
	return Check{Name: found.Code, Note: found, Tested: true, Statistic: e.F, P: e.P, Effect: e.Size, EffectU: e.SizeU}
}

// spareForCheck is how many shots must be left beyond the unknowns, the added ones included.
const spareForCheck = 2

// Effects tests whether the lag, which is unknown number lag of a fit, changes with what the columns
// w hold, one row a shot. All unknowns, the spread included, are fitted anew with the columns; P is
// the F test's, integrated over the scatter as the intervals are (for equal shots and no common
// errors it is the textbook F test). ok is false when the run cannot tell the columns from its other unknowns.
func Effects(s *outlier.Fit, lag int, w [][]float64) (e Effect, ok bool) {
	k := len(w)
	columns := make([][]float64, k)
	for j := range w {
		columns[j] = make([]float64, len(s.R))
		for i := range s.R {
			columns[j][i] = s.X[i*s.P+lag] * w[j][i]
		}
	}
	m := s.Widened(columns)
	for j := range w {
		if !m.Estimable(s.P + j) {
			return e, false
		}
	}
	if m.Spare() < spareForCheck {
		return e, false
	}
	best := m.Maximise(s.Best.Y)
	if !best.OK || !(best.Info > 1e-6) {
		return e, false
	}
	if k == 1 {
		e.Size, e.SizeU = best.Step[s.P], math.Sqrt(best.Cov[s.P*m.P+s.P])
	}
	wald, good := m.Wald(best, k)
	if e.F = wald / float64(k); !good {
		return e, false
	}
	df := 2 * best.Info
	if df > 2*outlier.PlainDF {
		e.P = distuv.F{D1: float64(k), D2: df}.Survival(e.F)
		return e, true
	}
	post, chi, sum := m.Integrate(best, mixed.Floor), distuv.ChiSquared{K: float64(k)}, 0.0
	for i, pt := range post.Points {
		mass := post.Mass[i] * math.Sqrt(pt.Info)
		if q, good := m.Wald(pt, k); good {
			e.P += mass * chi.Survival(q)
			sum += mass
		}
	}
	e.P /= sum
	return e, sum > 0
}
