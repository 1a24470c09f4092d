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

// Two digits are shown of how far off a shot is: it is told by its own scatter, which is known no
// better.
func TestOddShotsDistanceHasTwoDigits(t *testing.T) {
	for z, want := range map[float64]string{43.04: "43", 5.23: "5.2", 120.4: "120"} {
		if got := twoDigits(z); got != want {
			t.Errorf("%v: %q, not %q", z, got, want)
		}
	}
}
