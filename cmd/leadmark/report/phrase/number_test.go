package phrase

import (
	"math"
	"testing"
)

// The rule is the GUM's (JCGM 100:2008, 7.2.6); 7.2.2 of it gives 100.021 47 g with 0.35 mg as
// 100.021 47(35) g: the value to the place of the uncertainty's second digit.
func TestDigitsFollowTheUncertainty(t *testing.T) {
	for _, c := range []struct {
		u    float64
		want int
	}{{0.00035, 5}, {0.38, 2}, {1.4, 1}, {14, 0}, {140, 0}, {0.0996, 2}, {0.0994, 3}, {math.NaN(), 3}} {
		if got := Decimals(c.u); got != c.want {
			t.Errorf("decimals(%v) = %d, want %d", c.u, got, c.want)
		}
	}
	if got := Digits(-0.0001, 2); got != "0.00" {
		t.Errorf("minus nothing is printed %q", got)
	}
}
