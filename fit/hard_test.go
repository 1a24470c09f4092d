package fit

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/scripts/claim"
	"leadmark/testdata"
)

// sane fails when a figure of the result is not a number or an interval is the wrong way round.
// JSON refuses infinities and NaN anywhere in the result.
func sane(t *testing.T, name string, res Result) {
	t.Helper()
	if _, err := json.Marshal(res); err != nil {
		t.Errorf("%s: %v", name, err)
	}
	for what, e := range map[string]*Estimate{"lag": res.Lag, "spread": res.Spread, "trip": res.TripOffset} {
		if e != nil && !(e.U >= 0 && e.DF > 0 && e.Interval95.Low <= e.Value && e.Value <= e.Interval95.High) {
			t.Errorf("%s: %s %+v", name, what, *e)
		}
	}
	if res.NextShot != nil && !(res.NextShot.Low < res.NextShot.High) {
		t.Errorf("%s: next shot %+v", name, *res.NextShot)
	}
}

func TestHardRuns(t *testing.T) {
	exact := Run{Gravity: 9.80665}
	for _, h := range []float64{0.2, 0.2, 0.2, 0.8, 0.8, 0.8} {
		v := math.Sqrt(2 * 9.80665 * h)
		exact.Shots = append(exact.Shots, Shot{Drop: h, Advance: v*0.05 + 9.80665*0.05*0.05/2})
	}
	three := Run{Shots: []Shot{{Speed: 1, Advance: 0.05, AdvanceU: 1e-4},
		{Speed: 2, Advance: 0.1, AdvanceU: 1e-4}, {Speed: 3, Advance: 0.151, AdvanceU: 1e-4}}}
	same := Run{TripU: ptr(1e-4)}
	for i := 0; i < 5; i++ {
		same.Shots = append(same.Shots, Shot{Speed: 1.5, Advance: 0.08, AdvanceU: 1e-4})
	}
	wild, _ := drops(5, []float64{0.2, 0.8}, 4, 1e-3)
	wild.Shots[0].Advance = 1e6
	backward := Run{TripU: ptr(1e-4)}
	for i := 0; i < 6; i++ {
		backward.Shots = append(backward.Shots, Shot{Group: "a", Delay: 0.01 * float64(i%3),
			Advance: 0.08 - 0.3*float64(i%3)*0.01, AdvanceU: 1e-4})
	}
	mixed, _ := drops(6, []float64{0.3}, 5, 0.5e-3)
	for i := 0; i < 6; i++ {
		d := 0.01 * float64(i%3)
		mixed.Shots = append(mixed.Shots, Shot{Group: "b", Delay: d,
			Advance: 0.0004 + 1.2*(0.0523+d) + 1e-4*float64(i%2), AdvanceU: 1e-4})
	}
	for name, run := range map[string]Run{"exact": exact, "three shots": three, "all alike": same,
		"one absurd": wild, "backward": backward, "mixed": mixed} {
		res, err := Lag(run)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		sane(t, name, res)
		switch name {
		case "exact":
			testdata.Within(t, "lag of exact drops", res.Lag.Value, 0.05, 1e-9)
			testdata.Within(t, "trip of exact drops", res.TripOffset.Value, 0, 1e-9)
		case "mixed":
			if res.Lag == nil || !(math.Abs(res.Lag.Value-0.0523) <= 4*res.Lag.U) {
				t.Errorf("mixed: %+v", res.Lag)
			}
		case "one absurd":
			if !res.Shots[0].Outlier {
				t.Error("the absurd shot was not flagged")
			}
		}
	}
}

// Runs thrown together at random: whatever is in them, Lag answers without NaN.
func TestRandomRuns(t *testing.T) {
	rng, told := rand.New(rand.NewPCG(31, 7)), 0
	for k := 0; k < 300; k++ {
		run := Run{Gravity: 9.8, GravityU: 1e-3 * float64(rng.IntN(2)), DropCommonU: 1e-3 * float64(rng.IntN(2)),
			SpeedRepeat: 0.01 * float64(rng.IntN(2))}
		if rng.IntN(2) == 0 {
			run.TripU = ptr(1e-3 * rng.Float64())
		}
		kinds := 1 + rng.IntN(7)
		for i := 0; i < 3+rng.IntN(12); i++ {
			s := Shot{AdvanceU: 1e-4 * rng.Float64(), Delay: 0.01 * float64(rng.IntN(3))}
			v := 1.5
			switch {
			case kinds&1 > 0 && rng.IntN(3) > 0:
				s.Drop = 0.2 * float64(1+rng.IntN(4))
				s.DropU, s.DropShotU = 1e-3*float64(rng.IntN(2)), 1e-3*float64(rng.IntN(2))
				v = math.Sqrt(2 * 9.8 * s.Drop)
			case kinds&2 > 0 && rng.IntN(3) > 0:
				s.Speed, s.SpeedU = 0.5+rng.Float64(), 0.1*rng.Float64()*float64(rng.IntN(2))
				v = s.Speed
			default:
				s.Group = string(rune('a' + rng.IntN(2)))
			}
			s.Advance = v*(0.05+s.Delay) + 3e-3*rng.NormFloat64()
			if rng.IntN(10) == 0 {
				s.Advance *= rng.Float64()
			}
			run.Shots = append(run.Shots, s)
		}
		res, err := Lag(run)
		if err != nil {
			t.Fatalf("run %d: %v", k, err)
		}
		sane(t, fmt.Sprintf("run %d", k), res)
		if res.Lag != nil {
			told++
		}
	}
	// Most of these mixtures tell a lag on paper; one that is withheld everywhere says nothing.
	var s claim.Study
	s.Hold("random runs whose lag is told", claim.Share(told, 300), claim.Between(0.5, 0.95))
	s.Held(t)
}
