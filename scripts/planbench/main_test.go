package main

import (
	"math"
	"os/exec"
	"testing"

	"leadmark/calib/plan"
)

// mostDrawn is how many trips a plan with default settings may draw for each of the trips it is
// asked to draw: the rest is for the shape of the reach, its outline, the focus and each change
// that it tries.
const mostDrawn = 1.7

func TestTripsDrawn(t *testing.T) {
	for name, req := range cases() {
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
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import numpy").Run() != nil {
		t.Skip("no NumPy at hand (Debian: python3-numpy)")
	}
	for name, req := range cases() {
		r, err := compare(req, bench{python, "draws.py", 1})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: of %d trips NumPy finds %.4f inside", name, r.trips, r.inside)
		if p := req.Options.Probability; math.Abs(r.inside-p) > 0.003 {
			t.Errorf("%s: NumPy finds %.4f inside, the reach says %.2f", name, r.inside, p)
		}
	}
}
