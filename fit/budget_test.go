package fit

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"leadmark/testdata"
)

// designs are runs in which every kind of uncertainty occurs.
func designs() []Run {
	var list []Run
	for k, c := range []cell{{"drop", 3, 4, 3, true, false}, {"push", 3, 5, 1, true, false},
		{"sweep", 4, 4, 3, true, false}, {"drop", 2, 3, 0, false, false}} {
		run, _ := simulate(c, rand.New(rand.NewPCG(41, uint64(k))))
		if c.method == "sweep" {
			run.SpeedRepeat = 0.01
		}
		list = append(list, run)
	}
	return list
}

// GUM 5.1.2: the squares of the contributions sum to the square of the combined standard uncertainty,
// that of the estimate.
func TestBudgetSums(t *testing.T) {
	seen := map[string]bool{}
	for _, run := range designs() {
		res, err := Lag(run)
		if err != nil {
			t.Fatal(err)
		}
		if len(res.Budget) == 0 || res.Budget[0].Of != "lag" {
			t.Fatalf("no budget of the lag: %+v", res.Budget)
		}
		for _, b := range res.Budget {
			sum, share := 0.0, 0.0
			for _, l := range b.Lines {
				seen[l.Source] = true
				sum, share = sum+l.U*l.U, share+l.Share
				testdata.Near(t, l.Source+" is sensitivity x input", math.Abs(l.Sensitivity)*l.Input, l.U, 1e-12)
			}
			want := res.Lag.U
			if b.Of == "trip_offset" {
				want = res.TripOffset.U
			}
			testdata.Near(t, b.Of+" sum", math.Sqrt(sum), want, 1e-9)
			testdata.Near(t, "shares", share, 1, 1e-12)
		}
	}
	for _, name := range []string{"reading", "spread", "drop-height", "letting-go", "tape", "gravity", "speed",
		"speed-repeat", "trip-place", "weights"} {
		if !seen[name] {
			t.Errorf("no line %q in any budget", name)
		}
	}
}

// A sensitivity is what the estimate does when the stated value is changed: tried for gravity, the tape
// and one height by changing them (the fit is not quite linear, so to 2 %).
func TestBudgetSensitivity(t *testing.T) {
	run := designs()[0]
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	changed := func(f func(*Run)) float64 {
		r := run
		r.Shots = append([]Shot(nil), run.Shots...)
		f(&r)
		return lagHolding(r, res.Spread.Value)
	}
	base := changed(func(*Run) {})
	for _, l := range res.Budget[0].Lines {
		step := l.Input / 10
		var got float64
		switch l.Source {
		case "gravity":
			got = changed(func(r *Run) { r.Gravity += step })
		case "tape":
			got = changed(func(r *Run) {
				for i := range r.Shots {
					r.Shots[i].Drop += step
				}
			})
		case "drop-height":
			got = changed(func(r *Run) {
				for i := range r.Shots {
					if r.Shots[i].Drop == l.Drop {
						r.Shots[i].Drop += step
					}
				}
			})
		default:
			continue
		}
		// The fit's own weights move a little with the input: 1 % of the largest sensitivity allowed.
		testdata.Within(t, l.Source, (got-base)/step, l.Sensitivity, 0.02*math.Abs(l.Sensitivity)+0.01*0.11)
	}
}

// JCGM 101 clause 8: the Monte Carlo propagation through the model itself agrees with the budget and the
// intervals.
func TestPropagationAgrees(t *testing.T) {
	for k, run := range designs() {
		res, err := Lag(run)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Propagate(run, res, 20000)
		if err != nil {
			t.Fatal(err)
		}
		for name, q := range map[string]*Propagated{"lag": p.Lag, "trip": p.Trip} {
			e := res.Lag
			if name == "trip" {
				e = res.TripOffset
			}
			if (q == nil) != (e == nil) {
				t.Errorf("%d %s: told %v, drawn %v", k, name, e, q)
			}
			if q == nil {
				continue
			}
			t.Logf("%d %s: budget %.4f ms, drawn %.4f ms; interval %.6g drawn %.6g", k, name, 1e3*q.BudgetU, 1e3*q.U,
				e.Interval95, q.Interval95)
			if !q.Agrees {
				t.Errorf("%d %s does not agree: %+v, interval %+v", k, name, *q, e.Interval95)
			}
		}
		again, _ := Propagate(run, res, 20000)
		if !reflect.DeepEqual(p, again) {
			t.Error("two calls differ")
		}
	}
	run := designs()[0]
	res, _ := Lag(run)
	if _, err := Propagate(run, res, 10); err == nil {
		t.Error("10 draws were accepted")
	}
}

// fourAlike is a run whose lag has four errors, each normal with the standard uncertainty u: of a
// hundred readings, which scatter as much as stated, of one height, of the tape and of the trip place.
func fourAlike(u float64) Run {
	const g, drop, lag, shots = 9.80665, 0.5, 0.05, 100
	v := math.Sqrt(2 * g * drop)
	slope, perHeight := v+g*lag, lag*g/v
	tape := u * slope / perHeight
	run := Run{Gravity: g, DropCommonU: tape, TripU: ptr(u * slope)}
	each := u * slope * math.Sqrt(shots)
	for i := range shots {
		off := each * math.Sqrt((shots-1.0)/shots) * float64(1-2*(i%2))
		run.Shots = append(run.Shots, Shot{Drop: drop, DropU: tape, AdvanceU: each,
			Advance: v*lag + g*lag*lag/2 + off})
	}
	return run
}

// JCGM 101:2008, 9.2.2: the sum of four normal quantities of standard uncertainty 1 has 2, and the
// 95 % interval -3.92 to 3.92. Propagate finds both, in units of u, for a lag with four such errors,
// as far as its draws tell: four standard errors of a standard deviation and of a 2.5 % quantile.
// (The rectangular quantities of 9.2.3 and 9.2.4 have no counterpart: all that Propagate draws is
// normal.)
func TestPropagateAsJCGM101(t *testing.T) {
	const u = 1e-5
	draws := 40000
	if testing.Short() {
		draws = 10000
	}
	run := fourAlike(u)
	res, err := Lag(run)
	if err != nil || res.Lag == nil {
		t.Fatalf("%v, %+v", err, res.Lag)
	}
	p, err := Propagate(run, res, draws)
	if err != nil {
		t.Fatal(err)
	}
	got := p.Lag
	m := float64(draws)
	testdata.Within(t, "u", got.U/u, 2, 4*2/math.Sqrt(2*m))
	end := 4 * 2.67 * 2 / math.Sqrt(m)
	testdata.Within(t, "2.5 %", (got.Interval95.Low-res.Lag.Value)/u, -3.92, end)
	testdata.Within(t, "97.5 %", (got.Interval95.High-res.Lag.Value)/u, 3.92, end)
	testdata.Within(t, "mean", (got.Mean-res.Lag.Value)/u, 0, 4*2/math.Sqrt(m))
	testdata.Within(t, "u of the budget", got.BudgetU/u, 2, 1e-3)
	testdata.Within(t, "u of the estimate", res.Lag.U/u, 2, 0.02)
}

// lagHolding is the program's least squares with the spread held and no shot taken as odd.
func lagHolding(run Run, spread float64) float64 {
	l := newLayout(run)
	theta, _ := l.start()
	weight := make([]float64, len(run.Shots))
	for i := range weight {
		weight[i] = 1
	}
	var eiv []float64
	for i := 0; i < 6; i++ {
		m := l.linearise(theta, weight, spread*spread, eiv)
		pt := m.At(math.Log1p(spread * spread / m.Unit))
		for j := range theta {
			theta[j] += pt.Step[j]
		}
		if math.Abs(pt.Step[colLag]) < 1e-12 {
			break
		}
		eiv = l.adjustSpeeds(theta, m, pt)
	}
	return theta[colLag]
}
