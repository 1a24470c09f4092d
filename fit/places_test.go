package fit

import "testing"

// The digits of JCGM 100:2008, 7.2.6: two of the uncertainty.
func TestPlaces(t *testing.T) {
	for u, want := range map[float64]int{0.35e-3: 5, 0.35: 2, 1: 1, 3.5: 1, 35: 0, 3500: 0, 0: 2} {
		if got := places(u); got != want {
			t.Errorf("places(%v) = %d, want %d", u, got, want)
		}
	}
}
