package main

import (
	"math"
	"testing"

	"leadmark/calib/plan"
	"leadmark/testdata"
)

// mostDrawn is how many trips a plan with default settings may draw for each of the trips it is
// asked to draw: the rest is for the shape of the reach, its outline, the focus and each change
// that it tries.
const mostDrawn = 1.7

func TestTripsDrawn(t *testing.T) {
	for name, req := range plans() {
		p, err := plan.Make(req)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d trips drawn, %d asked for", name, p.Drawn, req.Options.Draws)
		if float64(p.Drawn) > mostDrawn*float64(req.Options.Draws) {
			t.Errorf("%s: %d trips drawn, %d asked for", name, p.Drawn, req.Options.Draws)
		}
	}
}

// NumPy, drawing as many of the same trips, finds as many inside the reach as the plan says. What
// both take is this program's to tell.
func TestPlanAgainstNumPy(t *testing.T) {
	python := testdata.NumPy(t)
	for name, req := range plans() {
		_, inside, err := bench{python, "draws.py", 1}.compare(req)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: of %d trips NumPy finds %.4f inside", name, inside.N, inside.Value)
		if p := req.Options.Probability; !(math.Abs(inside.Value-p) <= 0.003) {
			t.Errorf("%s: NumPy finds %.4f inside, the reach says %.2f", name, inside.Value, p)
		}
	}
}
