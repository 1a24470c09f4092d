package fit

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/scripts/claim"
	"leadmark/testdata"
)

var robustRuns = flag.Int("robust.runs", 0, "spoil this many runs a design with false trips "+
	"(scripts/coverage RUNS trips)")

// spoil makes a share of the shots, drawn at random, false trips: the ruler is read far before
// where it should be.
func spoil(run Run, share float64, rng *rand.Rand) []bool {
	bad := make([]bool, len(run.Shots))
	for _, i := range rng.Perm(len(bad))[:int(math.Round(share*float64(len(bad))))] {
		bad[i] = true
		run.Shots[i].Advance *= 0.8 * rng.Float64()
	}
	return bad
}

// With 15 % false trips: at least 95 % of them flagged, at most 1 % of good shots, and the lag's
// error at most 1.5 times that of the run without them.
func TestFalseTrips(t *testing.T) {
	runs := 150
	if *robustRuns > 0 {
		runs = *robustRuns
	}
	var s claim.Study
	for _, c := range []cell{{"drop", 2, 6, 3, false, false}, {"drop", 4, 6, 3, false, false},
		{"drop", 3, 4, 1, true, false}, {"push", 4, 6, 3, false, false}, {"sweep", 4, 6, 3, false, false},
		{"drop", 6, 12, 3, false, false}} {
		rng := rand.New(rand.NewPCG(17, 3))
		var good, bad, goodFlagged, badFlagged int
		var errors ratio
		for k := 0; k < runs; k++ {
			run, tr := simulate(c, rng)
			off := func(l *Estimate) float64 {
				if l == nil {
					return math.Inf(1) // withheld: the worst error there is
				}
				return l.Value - tr.lag
			}
			clean := off(quick(run).Lag)
			spoilt := spoil(run, 0.15, rng)
			sol := newLayout(run).review()
			errors.add(sq(off(sol.estimates(sol.identify()).Lag)), sq(clean))
			for i, b := range spoilt {
				switch {
				case b:
					bad++
					if sol.Odd[i] {
						badFlagged++
					}
				default:
					good++
					if sol.Odd[i] {
						goodFlagged++
					}
				}
			}
		}
		s.Hold(c.label()+" false trips found", claim.Share(badFlagged, bad), claim.AtLeast(0.95))
		s.Hold(c.label()+" good shots called odd", claim.Share(goodFlagged, good), claim.AtMost(0.01))
		s.Hold(c.label()+" error of the lag over the clean run's", errors.figure(true), claim.AtMost(1.5))
	}
	s.Held(t)
}

// misnote makes the run claim a height its shots did not fall from.
func misnote(run Run, from, to float64) {
	for i := range run.Shots {
		if run.Shots[i].Drop == from {
			run.Shots[i].Drop = to
		}
	}
}

// Six drops from 500 mm written down as 400 mm, among three other heights: named as a batch, with
// the height that would explain them, and without harm to the lag.
func TestWrongHeightIsNamed(t *testing.T) {
	named := 0
	for seed := uint64(0); seed < 20; seed++ {
		run, lag := drops(seed, []float64{0.2, 0.35, 0.5, 0.9}, 6, 0.8e-3)
		misnote(run, 0.5, 0.4)
		res, err := Lag(run)
		if err != nil {
			t.Fatal(err)
		}
		if d := math.Abs(res.Lag.Value - lag); !(d <= 5*res.Lag.U) {
			t.Errorf("seed %d: lag off by %g, u %g", seed, d, res.Lag.U)
		}
		for _, n := range res.Notes {
			if n.Code == "odd-batch" {
				named++
				if seed == 0 {
					t.Log(n)
				}
			}
		}
	}
	if named < 19 {
		t.Errorf("named in %d of 20 runs", named)
	}
}

// With three heights nobody can tell which one is wrong: none is thrown out, and it is said.
func TestHeightsDisagree(t *testing.T) {
	run, _ := drops(4, []float64{0.2, 0.5, 0.9}, 6, 0.8e-3)
	misnote(run, 0.5, 0.4)
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range res.Shots {
		if s.Outlier {
			t.Errorf("shot %d called odd: %v", i+1, s.Why)
		}
	}
	found := false
	for _, n := range res.Notes {
		found = found || n.Code == "settings-disagree"
		t.Log(n)
	}
	if !found {
		t.Error("not said that the heights disagree")
	}
}

// What odd shots change is given as values: the lag and the spread with every shot counted in full,
// fitted here by hand.
func TestOddSaysWhatChanges(t *testing.T) {
	run, _ := drops(11, []float64{0.2, 0.4, 0.9}, 6, 0.8e-3)
	if res, err := Lag(run); err != nil || res.Odd != nil {
		t.Fatalf("%v; odd shots in a clean run: %+v", err, res.Odd)
	}
	run.Shots[4].Advance *= 0.5
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	if res.Odd == nil || len(res.Odd.Shots) != 1 || res.Odd.Shots[0] != 4 || res.Odd.Lag == nil ||
		res.Odd.Spread == nil {
		t.Fatalf("odd %+v", res.Odd)
	}
	l := newLayout(run)
	all := make([]float64, len(run.Shots))
	for i := range all {
		all[i] = 1
	}
	theta, _ := l.start()
	m, pt := l.solve(theta, all)
	testdata.Near(t, "lag with every shot", res.Odd.Lag.Value, m.Theta[colLag]+pt.Step[colLag], 1e-9)
	testdata.Near(t, "spread with every shot", res.Odd.Spread.Value, math.Sqrt(pt.T), 1e-6)
	testdata.Near(t, "change", res.Odd.LagChange, res.Odd.Lag.Value-res.Lag.Value, 1e-12)
	if !(res.Odd.SpreadRatio >= 2) {
		t.Errorf("spread only %.2f times as large with a shot far off", res.Odd.SpreadRatio)
	}
}
