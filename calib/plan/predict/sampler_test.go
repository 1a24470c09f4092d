package predict

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// The quantile behind the drawing, against the error function; the t's, against gonum's.
func TestQuantiles(t *testing.T) {
	phi := func(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
	near := func(what string, got, want, tol float64) {
		if !(math.Abs(got-want) <= tol*math.Abs(want)) {
			t.Errorf("%s: %.9g, want %.9g", what, got, want)
		}
	}
	for k := 1; k < 2000; k++ {
		u := float64(k) / 2000
		got, want := normalQuantile(u), math.Sqrt2*math.Erfinv(2*u-1)
		if math.Abs(got-want) > 2e-6 {
			t.Fatalf("%g: %g, want %g", u, got, want)
		}
	}
	// R: qnorm(1e-12), from memory; erfc below agrees
	near("far out", normalQuantile(1e-12), -7.034483825, 1e-6)
	near("far out, back", phi(normalQuantile(1e-12)), 1e-12, 1e-4)
	for _, df := range []float64{2, 4, 17, 200} {
		s := NewSampler(Law{DF: df})
		for z := -3.7; z < 3.8; z += 0.0731 {
			want := distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(phi(z))
			if math.Abs(s.at(z)-want) > 1e-3*(1+math.Abs(want)) {
				t.Errorf("df %g at %g: %g, want %g", df, z, s.at(z), want)
			}
		}
	}
}
