package mixed

import (
	"math"
	"math/rand/v2"
)

// A Redraw draws residuals of the fitted model as other values would leave them.
type Redraw struct {
	m              *Model
	pt             Point
	d, sums, wx, y []float64
}

// Redraw prepares drawing with the variances of one place of the path.
func (m *Model) Redraw(pt Point) *Redraw {
	d := m.Diagonal(pt.Y)
	sums := m.blockSums(d)
	return &Redraw{m, pt, d, sums, m.solveV(d, sums, m.X, m.P), make([]float64, len(d))}
}

// Next draws values from N(0, V) and is V^-1 (residual) of them, as in Point.
func (r *Redraw) Next(rng *rand.Rand) (wres []float64) {
	m := r.m
	r.values(rng)
	wres = m.solveV(r.d, r.sums, r.y, 1)
	rhs := make([]float64, m.P)
	for i, v := range r.y {
		for j := range rhs {
			rhs[j] += r.wx[i*m.P+j] * v
		}
	}
	step := times(r.pt.Cov, rhs, m.P)
	for i := range wres {
		for j, v := range step {
			wres[i] -= r.wx[i*m.P+j] * v
		}
	}
	return wres
}

// values draws from N(0, V), the common errors included.
func (r *Redraw) values(rng *rand.Rand) {
	m := r.m
	shared, common := make([]float64, m.Blocks), make([]float64, m.P)
	for b := range shared {
		shared[b] = rng.NormFloat64()
	}
	for c, q := range m.Prior {
		if q > 0 {
			common[c] = rng.NormFloat64() / math.Sqrt(q)
		}
	}
	for i, d := range r.d {
		if r.y[i] = 0; d == 0 {
			continue
		}
		r.y[i] = math.Sqrt(d) * rng.NormFloat64()
		if b := m.Block[i]; b >= 0 {
			r.y[i] += m.Z[i] * shared[b]
		}
		for c, v := range common {
			r.y[i] += m.X[i*m.P+c] * v
		}
	}
}
