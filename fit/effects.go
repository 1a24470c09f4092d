package fit

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// effects is what adding columns to the fitted model gives: lag_i = L + sum gamma_k w_ik.
type effects struct {
	f, p, size, sizeU float64
}

func (e effects) check(name string) Check {
	return Check{Name: name, Tested: true, Statistic: e.f, P: e.p, Effect: e.size, EffectU: e.sizeU}
}

// untested says why a check was not made.
func untested(name, why string) Check { return Check{Name: name, Text: why} }

// spareForCheck is how many shots must be left beyond the unknowns, the added ones included.
const spareForCheck = 2

// effects tests whether the lag changes with what the columns w hold, one row a shot. All unknowns,
// the spread included, are fitted anew with the columns; P is the F test's, integrated over the
// scatter as the intervals are (for equal shots and no common errors it is the textbook F test). ok
// is false when the run cannot tell the columns from its other unknowns.
func (s *solution) effects(w [][]float64) (e effects, ok bool) {
	m := s.widened(w)
	k := len(w)
	for j := range w {
		if !m.estimable(s.p + j) {
			return e, false
		}
	}
	if m.spare() < spareForCheck {
		return e, false
	}
	best := m.maximise(s.best.y)
	if !best.ok || !(best.info > 1e-6) {
		return e, false
	}
	if k == 1 {
		e.size, e.sizeU = best.step[s.p], math.Sqrt(best.cov[s.p*m.p+s.p])
	}
	wald, good := m.wald(best, k)
	if e.f = wald / float64(k); !good {
		return e, false
	}
	df := 2 * best.info
	if df > 2*plainDF {
		e.p = distuv.F{D1: float64(k), D2: df}.Survival(e.f)
		return e, true
	}
	post, chi, sum := m.integrate(best, yFloor), distuv.ChiSquared{K: float64(k)}, 0.0
	for i, pt := range post.points {
		mass := post.mass[i] * math.Sqrt(pt.info)
		if q, good := m.wald(pt, k); good {
			e.p += mass * chi.Survival(q)
			sum += mass
		}
	}
	e.p /= sum
	return e, sum > 0
}

// widened is the model at the solution with columns slope w added.
func (s *solution) widened(w [][]float64) *linear {
	k, p := len(w), s.p
	wide := *s.layout
	wide.p = p + k
	wide.prior = append(append([]float64(nil), s.prior...), make([]float64, k)...)
	m := *s.linear
	m.layout = &wide
	m.theta = append(append([]float64(nil), s.theta...), make([]float64, k)...)
	m.x = make([]float64, len(s.r)*wide.p)
	for i := range s.r {
		row := m.x[i*wide.p : (i+1)*wide.p]
		copy(row, s.x[i*p:(i+1)*p])
		for j := range w {
			row[p+j] = s.x[i*p+colLag] * w[j][i]
		}
	}
	m.null = nil
	m.findNull()
	return &m
}

// wald is g'C^-1 g of the last k unknowns at a place of the path.
func (m *linear) wald(pt point, k int) (q float64, ok bool) {
	first := m.p - k
	c := make([]float64, k*k)
	for a := 0; a < k; a++ {
		for b := 0; b < k; b++ {
			c[a*k+b] = pt.cov[(first+a)*m.p+first+b]
		}
	}
	inv, _, ok := invertSym(c, k)
	return quadratic(inv, pt.step[first:]), ok
}
