package stat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func TestSelectAgainstSorting(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for n := 1; n < 40; n++ {
		v := make([]float64, n)
		for i := range v {
			v[i] = float64(rnd.IntN(12)) // ties among them
		}
		sorted := slices.Sorted(slices.Values(v))
		for k := range v {
			if got := Select(slices.Clone(v), k); got != sorted[k] {
				t.Fatalf("place %d of %v: %v, sorting has %v", k, v, got, sorted[k])
			}
		}
	}
}

// Of none, one, an even and an odd number, against sorting; the share below a quantile is the one
// asked for.
func TestMedianAndQuantileAgainstSorting(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for n := range 40 {
		v := make([]float64, n)
		for i := range v {
			v[i] = float64(rnd.IntN(20))
		}
		sorted, want := slices.Sorted(slices.Values(v)), 0.0
		if n > 0 {
			want = (sorted[(n-1)/2] + sorted[n/2]) / 2
		}
		if got := Median(slices.Clone(v)); got != want {
			t.Fatalf("median of %v: %v, sorting has %v", v, got, want)
		}
		for _, q := range []float64{0, 0.025, 0.5, 0.975, 1} {
			if n == 0 {
				break
			}
			if got, want := Quantile(slices.Clone(v), q), sorted[min(int(q*float64(n)), n-1)]; got != want {
				t.Fatalf("quantile %v of %v: %v, sorting has %v", q, v, got, want)
			}
		}
	}
}

// Half of the deviations of a normal law lie within 0.6745 standard deviations (Abramowitz and
// Stegun, table 26.5).
func TestRobustSD(t *testing.T) {
	if got := RobustSD([]float64{0.6745, 0.1, 900}); !(math.Abs(got-1) <= 2e-5) {
		t.Errorf("%v", got)
	}
}
