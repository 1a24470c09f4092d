package nextshot

import (
	"math"
	"testing"

	"leadmark/fit/mixed"
	"leadmark/testdata"
)

// Near a spread of nil the interval that is told is the mixture's, widened by the factor that the
// calibration finds, to both sides of the value.
func TestIntervalIsStretched(t *testing.T) {
	m := design(cell{"push", 2, 12, false, false})
	p := m.Integrate(m.At(0), mixed.Floor)
	low, high := Interval(p, 0)
	mix, at := p.Column(0, 1), p.Theta[0]+p.Valued.Step[0]
	factor := stretchOf(m, 0, p.Best)
	if !(factor > 1.01) {
		t.Fatalf("the design no longer shows what the stretch is for: %g", factor)
	}
	testdata.Within(t, "below", (at-low)/(at-mix.Quantile(0.025)), factor, 1e-9)
	testdata.Within(t, "above", (high-at)/(mix.Quantile(0.975)-at), factor, 1e-9)
	if math.IsNaN(low) || !(low < at && at < high) {
		t.Errorf("%g to %g about %g", low, high, at)
	}
}
