package fit

import "testing"

func TestChanceText(t *testing.T) {
	for p, want := range map[float64]string{0: "below 0.001", 3e-17: "below 0.001", 0.0012: "0.0012",
		0.0468: "0.047", 0.41: "0.41", 1: "1"} {
		if got := ChanceText(p); got != want {
			t.Errorf("%v: %q, not %q", p, got, want)
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
