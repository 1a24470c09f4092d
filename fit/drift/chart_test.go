package drift

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/testdata"
)

// Entries of a printed table within half their last digit; the same constants computed with R (d2
// by integration, d3 by ptukey, c4 by lgamma) for n = 2 to 25.
func TestChartConstants(t *testing.T) {
	for _, r := range testdata.Numbers(t, "quality/chart_constants_published.csv") {
		c := Constants(int(r[0]))
		for i, got := range []float64{c.D2, c.C4, c.A2, c.A3, c.B3, c.B4, c.D3, c.D4} {
			last := 5.001e-4
			if i == 1 { // c4 has one digit more
				last = 5.001e-5
			}
			testdata.Within(t, "published", got, r[1+i], last)
		}
	}
	for _, r := range testdata.Numbers(t, "quality/chart_constants.csv") {
		c := Constants(int(r[0]))
		for i, got := range []float64{c.D2, c.D3Range, c.C4, c.A2, c.A3, c.B3, c.B4, c.B5, c.B6, c.D3, c.D4, c.E2} {
			testdata.Within(t, "computed", got, r[1+i], 2e-7*math.Max(1, r[1+i]))
		}
	}
	if !math.IsNaN(Constants(1).D2) {
		t.Error("n = 1 has constants")
	}
}

// In control nearly always when nothing changes; a shift of five standard deviations is found;
// limits are mean +- 2.66 mean moving range.
func TestControlChart(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 9))
	values := make([]float64, 30)
	for i := range values {
		values[i] = 0.052 + 2e-4*rng.NormFloat64()
	}
	c, ok := ControlChart(values, nil)
	if !ok || !c.InControl {
		t.Errorf("%v %v", ok, c.Note)
	}
	testdata.Near(t, "limits", c.Upper-c.Centre, 2.65868078*c.RangeCentre, 1e-8)
	values[29] += 1e-3
	if c, _ = ControlChart(values, nil); c.InControl || c.Points[29].Out.Case != "limits" {
		t.Error("a jump was not seen")
	}
	// The calibrations' own uncertainty widens limits that few alike values make too narrow.
	c, _ = ControlChart([]float64{0.0520, 0.0520, 0.0521}, []float64{2e-4, 2e-4, 2e-4})
	testdata.Near(t, "sigma", c.Sigma, 2e-4, 1e-12)
	if _, ok := ControlChart(values[:2], nil); ok {
		t.Error("a chart of two points")
	}
}
