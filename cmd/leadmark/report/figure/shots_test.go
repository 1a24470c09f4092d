package figure

import (
	"math"
	"testing"

	"leadmark/calib"
	"leadmark/calib/runfile"
)

func TestSpeedOfAFall(t *testing.T) {
	// v = g t with t = 0.45173 s for a fall of 1.0000 m where g = 9.8010 m/s^2 (OpenStax, College
	// Physics, example 2.16; the answer's digits from memory): 4.4274 m/s.
	v, ok := speedAt(runfile.Conditions{Drop: 1, Gravity: 9.8010}, calib.Result{})
	if !ok || math.Abs(v-9.8010*0.45173) > 5e-4 { // half a unit of the last digit of t, times g
		t.Errorf("speed after 1 m is %v, want 4.4274", v)
	}
}
