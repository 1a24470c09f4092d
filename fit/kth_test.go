package fit

import (
	"math/rand/v2"
	"slices"
	"testing"
)

func TestKthAgainstSorting(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for n := 1; n < 40; n++ {
		v := make([]float64, n)
		for i := range v {
			v[i] = float64(rnd.IntN(12)) // ties among them
		}
		sorted := slices.Sorted(slices.Values(v))
		for k := range v {
			if got := Kth(slices.Clone(v), k); got != sorted[k] {
				t.Fatalf("place %d of %v: %v, sorting has %v", k, v, got, sorted[k])
			}
		}
	}
}
