package plan

import (
	"math"
	"testing"

	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/reach"
	"leadmark/calib/plan/subject"
)

// What changes are judged by is what the plan states: whole, in focus and frozen. Each of the three
// alone takes keepers away.
func TestKeeperIsAllThree(t *testing.T) {
	bee := subject.Subject{Length: 0.012, Height: 0.008, Width: 0.008, Motion: subject.Straight, Speed: 1.1, SpeedSD: 0.2,
		Elevation: 0.03, ElevationSD: 0.1, AzimuthSD: 0.1, Exit: [2]float64{0.006, 0.006}, FocusOn: subject.FocusBody}
	p, err := Make(Request{Subject: bee, Lag: predict.AssumedLag(0.05, 0.001), Options: DefaultOptions()})
	if err != nil {
		t.Fatal(err)
	}
	s := reach.New(bee, p.Request.Lag, 0).Sample(1<<12, 1, 1)
	all := settings{frame: window{-9, 9, -9, 9, 1e9}, far: -9, near: 9, stop: math.Inf(1)}
	if k := all.keeper(s).P; k != 1 {
		t.Fatalf("with room for everything %.3f are keepers", k)
	}
	half, shallow, slow := all, all, all
	half.frame.right = p.Reach.Along[1] - 0.01
	shallow.far, shallow.near = -0.008, 0.008
	slow.stop = 1.1
	for name, k := range map[string]settings{"cut off": half, "out of focus": shallow, "not frozen": slow} {
		got, stated := k.keeper(s).P, k.chances(s, true).Keeper.P
		if got != stated || got < 0.05 || got > 0.95 {
			t.Errorf("%s: %.3f are keepers, stated %.3f", name, got, stated)
		}
	}
}
