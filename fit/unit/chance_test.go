package unit

import "testing"

func TestChance(t *testing.T) {
	for p, want := range map[float64]string{0: "below 0.001", 3e-17: "below 0.001", 0.0012: "0.0012",
		0.0468: "0.047", 0.41: "0.41", 1: "1"} {
		if got := Chance(p); got != want {
			t.Errorf("%v: %q, not %q", p, got, want)
		}
	}
}
