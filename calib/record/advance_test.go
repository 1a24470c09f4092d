package record

import (
	"testing"

	"leadmark/fit"
)

// An advance is told in the units of the file formats: the delay in milliseconds, the fall and what
// was read in millimetres, a speed in metres per second.
func TestAdvanceUnits(t *testing.T) {
	e := advanceEntry(fit.AdvanceGroup{Drop: 0.4, Delay: 0.003, N: 6, Mean: fit.Estimate{Value: 0.16, U: 0.0005}, SD: 0.0012,
		Tolerance95: &fit.Interval{Low: 0.155, High: 0.165}})
	if e.DelayMS != 3 || *e.DropMM != 400 || e.MeanMM != 160 || *e.SDMM != 1.2 ||
		*e.Tolerance95 != [2]float64{155, 165} || e.SpeedMPS != nil || e.N != 6 {
		t.Errorf("%+v", e)
	}
	if e := advanceEntry(fit.AdvanceGroup{Speed: 1.5, Group: "a", N: 1, Mean: fit.Estimate{Value: 0.1, U: 1e-4}}); *e.SpeedMPS != 1.5 ||
		e.DropMM != nil || e.Group != "a" {
		t.Errorf("%+v", e)
	}
}
