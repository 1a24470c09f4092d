package plan_test

import (
	"math"
	"testing"

	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
)

// A subject without scatter in heading and without an opening's height moves along alone: then the
// reach holds in along what it holds in all, its stated probability.
func TestSeenInsideOfAStraightRunner(t *testing.T) {
	s := subject.Subject{Name: "runner", Length: 0.01, Height: 0.004, Width: 0.004,
		Motion: subject.Straight, Speed: 1, SpeedSD: 0.2, FocusOn: subject.FocusBody}
	p, err := plan.Make(plan.Request{Subject: s, Lag: predict.AssumedLag(0.05, 0.001),
		Options: plan.Options{Probability: 0.9, Draws: 1 << 15, Seed: 3, PrintLong: 0.25}})
	if err != nil {
		t.Fatal(err)
	}
	got := plan.SeenInside(p)
	if math.Abs(got.Along-0.9) > 0.01 || math.Abs(got.AlongUp-0.9) > 0.01 {
		t.Errorf("%+v, want 0.9", got)
	}
}
