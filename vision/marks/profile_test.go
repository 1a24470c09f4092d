package marks

import (
	"math"
	"testing"
)

// A graduation between two samples is placed there, not on one of them: a Gaussian's top by a parabola
// is off by less than a fiftieth of a sample where it is three samples wide.
func TestTopBetweenSamples(t *testing.T) {
	for _, at := range []float64{30, 30.1, 30.27, 30.5, 30.81} {
		tr := &profile{s: &strip{step: 0.5, t0: 100, nt: 61}}
		for i := range 61 {
			tr.smooth = append(tr.smooth, 4*math.Exp(-0.5*math.Pow((float64(i)-at)/3, 2)))
		}
		want := 100 + 0.5*at
		got, height, ok := tr.top(want+0.8, 3)
		if !ok || math.Abs(got-want) > 0.01 || math.Abs(height-4) > 0.02 {
			t.Errorf("%.3f px, %.3f high (%v), truly %.3f and 4", got, height, ok, want)
		}
	}
}
