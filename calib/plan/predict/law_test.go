package predict

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// A law cut off at zero has the density of the whole law above zero, scaled up: its mean and its
// quantiles are held against integrals of gonum's densities.
func TestCutLaws(t *testing.T) {
	for _, l := range []Law{
		{Mean: 1, Scale: 0.6}, {Mean: 0.3, Scale: 0.6}, {Mean: 0.2, Scale: 0.5, DF: 4}, {Mean: 1, Scale: 0.8, DF: 9},
		{Mean: 0.052, Scale: 0.0008, DF: 17},
	} {
		density := func(x float64) float64 { return distuv.Normal{Mu: l.Mean, Sigma: l.Scale}.Prob(x) }
		if l.DF > 0 {
			density = func(x float64) float64 { return distuv.StudentsT{Mu: l.Mean, Sigma: l.Scale, Nu: l.DF}.Prob(x) }
		}
		// from 0 to infinity by x = s y/(1-y)
		above := func(f func(x float64) float64) float64 {
			s := l.Mean + l.Scale
			return quad.Fixed(func(y float64) float64 { return f(s*y/(1-y)) * s / (1 - y) / (1 - y) }, 0, 1, 20000, nil, 0)
		}
		mass := above(density)
		mean := above(func(x float64) float64 { return x * density(x) }) / mass
		if got := l.CutMean(); math.Abs(got/mean-1) > 1e-4 {
			t.Errorf("%+v: mean %.6g, by integration %.6g", l, got, mean)
		}
		for _, p := range []float64{0.01, 0.5, 0.975} {
			q := l.Quantile(p)
			below := quad.Fixed(density, 0, q, 2000, nil, 0) / mass
			if math.Abs(below-p) > 1e-4 || q <= 0 {
				t.Errorf("%+v: quantile %g at %.5g, where %.5f lie below", l, p, q, below)
			}
		}
	}
}
