package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/scripts/claim"
	"leadmark/testdata"
)

// extend shoots what the advice says, with the truth of the simulation.
func extend(run Run, a Advice, t truth, rng *rand.Rand) Run {
	out := run
	out.Shots = append([]Shot(nil), run.Shots...)
	for k := 0; k < a.Shots; k++ {
		tau, v := t.lag+a.Delay+t.spread*rng.NormFloat64(), a.Speed
		if a.Drop > 0 {
			v = math.Sqrt(2 * run.Gravity * a.Drop)
			out.Shots = append(out.Shots, Shot{Drop: a.Drop, Delay: a.Delay, AdvanceU: readNoise,
				Advance: t.trip + v*tau + run.Gravity*tau*tau/2 + readNoise*rng.NormFloat64()})
			continue
		}
		if v == 0 {
			v = t.speed
		}
		out.Shots = append(out.Shots, Shot{Speed: a.Speed, Delay: a.Delay, AdvanceU: readNoise,
			Group:   groupIf(a.Speed == 0),
			Advance: t.trip + v*tau + readNoise*rng.NormFloat64()})
	}
	return out
}

func groupIf(unknown bool) string {
	if unknown {
		return "a"
	}
	return ""
}

// What the advice promises is met, on average over runs, within 15 %.
func TestAdviceKeepsItsPromise(t *testing.T) {
	var s claim.Study
	for _, c := range []cell{{"drop", 2, 6, 3, false, false}, {"drop", 4, 4, 1, false, false},
		{"push", 3, 6, 3, false, false}, {"sweep", 3, 6, 3, false, false}} {
		rng := rand.New(rand.NewPCG(23, 1))
		var ratios, gains []float64
		for k := 0; k < 40; k++ {
			run, tr := simulate(c, rng)
			sol := newLayout(run).review()
			know := sol.identify()
			res := sol.estimates(know)
			if res.Advice = sol.advice(know); len(res.Advice) == 0 {
				t.Fatal("no advice")
			}
			after := quick(extend(run, res.Advice[0], tr, rng))
			if res.Lag == nil || after.Lag == nil { // withheld: nothing was gained
				ratios, gains = append(ratios, math.NaN()), append(gains, math.NaN())
				continue
			}
			ratios = append(ratios, after.Lag.U/res.Advice[0].ULagAfter)
			gains = append(gains, after.Lag.U/res.Lag.U)
			if k == 0 {
				t.Logf("%+v", res.Advice[0])
			}
		}
		s.Hold(c.label()+" uncertainty met over promised", claim.Mean(ratios), claim.Between(0.85, 1.15))
		s.Hold(c.label()+" uncertainty after over before", claim.Mean(gains), claim.AtMost(0.99))
	}
	s.Held(t)
}

// A run of one height learns the lag from the height proposed, and is told how well.
func TestAdviceFromOneHeight(t *testing.T) {
	run, _ := drops(3, []float64{0.4}, 6, 0.8e-3)
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	a := res.Advice[0]
	t.Logf("%+v", a)
	rng := rand.New(rand.NewPCG(2, 2))
	tr := truth{lag: 0.0523, trip: 0.0004, spread: 0.8e-3}
	after, err := Lag(extend(run, a, tr, rng))
	if err != nil {
		t.Fatal(err)
	}
	if after.Lag == nil {
		t.Fatal("the advice did not lead to a lag")
	}
	if r := after.Lag.U / a.ULagAfter; !(r >= 0.6 && r <= 1.6) {
		t.Errorf("promised %g, met %g", a.ULagAfter, after.Lag.U)
	}
}

// The advised setting is the best of those looked at: checked by brute force with the same model,
// the information summed anew for each.
func TestAdviceIsBest(t *testing.T) {
	run, _ := simulate(cell{"drop", 3, 4, 3, false, false}, rand.New(rand.NewPCG(4, 4)))
	sol := newLayout(run).review()
	know := sol.identify()
	best := sol.advice(know)[0]
	for _, c := range sol.candidates(know) {
		c.Shots = best.Shots
		// Plain weighted least squares of the enlarged run, at the estimated spread.
		var sll, slb, sbb float64
		add := func(i int, drop, delay, u float64) {
			tau, v := sol.Theta[colLag]+delay, math.Sqrt(2*run.Gravity*drop)
			x := v + run.Gravity*tau
			w := 1 / (u*u + sol.Best.T*x*x)
			sll, slb, sbb = sll+w*x*x, slb+w*x, sbb+w
		}
		for i, s := range run.Shots {
			add(i, s.Drop, s.Delay, s.AdvanceU)
		}
		u := run.Shots[sol.mostLike(c)].AdvanceU
		for k := 0; k < c.Shots; k++ {
			add(-1, c.Drop, c.Delay, u)
		}
		after := math.Sqrt(sbb / (sll*sbb - slb*slb))
		if after < best.ULagAfter*(1-1e-3) {
			t.Errorf("%+v would give %g, better than the advised %g", c, after, best.ULagAfter)
		}
		if c.Drop == best.Drop && c.Delay == best.Delay {
			testdata.Near(t, "uncertainty promised", best.ULagAfter, after, 1e-6)
		}
	}
}
