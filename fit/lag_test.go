package fit

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"leadmark/testdata"
)

func ptr(x float64) *float64 { return &x }

// pushes makes a run of pushes at known speeds from x (m/s) and y (m).
func pushes(x, y []float64, u float64) Run {
	run := Run{}
	for i := range x {
		// a speed of 0 is an unknown one
		run.Shots = append(run.Shots, Shot{Speed: math.Max(x[i], 1e-300), Advance: y[i], AdvanceU: u})
	}
	return run
}

// With exact speeds, no fall and readings that scatter no more than stated the model is a straight
// line: Lag must give NIST's certified Norris values, standard errors included, and t intervals.
func TestLagIsStraightLineOnNorris(t *testing.T) {
	x, y := testdata.NISTLine(t, "Norris")
	res, err := Lag(pushes(x, y, 1.5))
	if err != nil {
		t.Fatal(err)
	}
	slope, offset := testdata.Certified(t, "Norris", "B1", 2), testdata.Certified(t, "Norris", "B0", 2)
	testdata.Near(t, "B1", res.Lag.Value, slope[0], 1e-11)
	testdata.Near(t, "SD B1", res.Lag.U, slope[1], 1e-8)
	testdata.Near(t, "B0", res.TripOffset.Value, offset[0], 1e-9)
	testdata.Near(t, "SD B0", res.TripOffset.U, offset[1], 1e-8)
	testdata.Near(t, "df", res.Lag.DF, 34, 1e-8)
	// t(0.975, 34) = 2.03224451 (R). Not exact here: beyond the stated noise the path is a spread,
	// whose displacement grows with the speed, and a little of the posterior lies there.
	testdata.Near(t, "interval", (res.Lag.Interval95.High-res.Lag.Interval95.Low)/2, 2.03224451*slope[1], 1e-3)
	if res.Spread.Value != 0 {
		t.Errorf("spread %g where the readings explain everything", res.Spread.Value)
	}
}

// ISO/TS 28037 WLS2 with larger uncertainties in the same proportion: no spread is left and the
// line stays ISO's.
func TestLagIsWeightedLine(t *testing.T) {
	x, _, y, uy := isoCase(t, "WLS2")
	run := pushes(x, y, 0)
	for i, u := range uy {
		run.Shots[i].AdvanceU = 1.3 * u
	}
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	testdata.Near(t, "lag", res.Lag.Value, testdata.Computed(t, "ISO/TS 28037 WLS2", "b"), 1e-6)
	testdata.Near(t, "trip", res.TripOffset.Value, testdata.Computed(t, "ISO/TS 28037 WLS2", "a"), 1e-6)
}

// A delay sweep at one speed with an exactly known trip place: minus the lag is the delay at which
// the advance would be nil, the inverse prediction of ISO/TS 28037 clause 11.
func TestSweepIsInversePrediction(t *testing.T) {
	d := []float64{0, 0.005, 0.010, 0.015, 0.020, 0.025}
	y := []float64{0.0786, 0.0858, 0.0938, 0.1009, 0.1087, 0.1162}
	run := Run{TripU: ptr(0)}
	for i := range d {
		run.Shots = append(run.Shots, Shot{Delay: d[i], Advance: y[i], AdvanceU: 3e-4, Group: "a"})
	}
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	l := textbook(d, y) // ISO/TS 28037:2010, clause 11, gives the x at which the line reaches 0
	x0 := -l.a / l.b
	u := math.Sqrt(sq(l.ua)+2*x0*l.cov+sq(x0*l.ub)) / l.b
	testdata.Near(t, "lag", res.Lag.Value, -x0, 1e-6)
	testdata.Near(t, "u", res.Lag.U, u, 1e-3)
	testdata.Near(t, "speed", res.Speeds[0].Value, l.b, 1e-6)
	testdata.Near(t, "u(speed)", res.Speeds[0].U, l.ub, 1e-3)
}

// Free fall: OpenStax College Physics, falling from rest 1.0000 m takes 0.45173 s at 9.8010; and
// advance = v lag + g lag^2/2, here 70.0 + 12.3 mm for 0.05 s at 1.4 m/s (references, section 7).
func TestFreeFall(t *testing.T) {
	run := Run{Gravity: 9.80665, TripU: ptr(0)}
	for _, h := range []float64{0.05, 0.10, 0.20, 0.30, 0.50, 1.00, 1.50, 2.00} {
		run.Shots = append(run.Shots, Shot{Drop: h, AdvanceU: 1e-4})
	}
	l := newLayout(run)
	// Computed with standard gravity 9.80665 m/s^2 (3rd CGPM, 1901).
	for i, v := range []float64{0.9902853, 1.4004749, 1.9805706, 2.4256937, 3.1315571, 4.4286906, 5.4240160,
		6.2631142} {
		testdata.Within(t, "v", l.known[i], v, 5e-8)
	}
	theta := make([]float64, l.p)
	theta[colLag] = 0.05
	m := l.linearise(theta, []float64{1, 1, 1, 1, 1, 1, 1, 1}, 0, nil)
	testdata.Within(t, "advance from 0.1 m", -m.R[1], 0.0700237+0.0122583, 1e-7)
	// From rest at 1 m in g = 9.8010: 0.45173 s.
	testdata.Within(t, "fall", math.Sqrt(2*1.0000/9.8010), 0.45173, 5e-6)
}

// drops simulates a run of drops with everything uncertain.
func drops(seed uint64, heights []float64, shots int, spread float64) (Run, float64) {
	rng := rand.New(rand.NewPCG(seed, 1))
	lag := 0.0523
	run := Run{Gravity: 9.80665, GravityU: 1e-3}
	for _, h := range heights {
		for k := 0; k < shots; k++ {
			tau := lag + spread*rng.NormFloat64()
			s := Shot{Drop: h, AdvanceU: 1e-4, DropShotU: 2e-4}
			v := math.Sqrt(2 * 9.80665 * (h + 2e-4*rng.NormFloat64()))
			s.Advance = 0.0004 + v*tau + 9.80665*tau*tau/2 + 1e-4*rng.NormFloat64()
			run.Shots = append(run.Shots, s)
		}
	}
	return run, lag
}

func TestLagOfDrops(t *testing.T) {
	run, lag := drops(7, []float64{0.2, 0.4, 0.6, 0.9}, 6, 0.8e-3)
	before := append([]Shot(nil), run.Shots...)
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(before, run.Shots) {
		t.Error("the caller's shots were changed")
	}
	want := []string{"lag", "spread", "next_shot", "trip_offset", "advance"}
	if !reflect.DeepEqual(res.Determined, want) {
		t.Errorf("determined %v, want %v", res.Determined, want)
	}
	if iv := res.Lag.Interval95; !(lag >= iv.Low-2*res.Lag.U && lag <= iv.High+2*res.Lag.U) {
		t.Errorf("lag %v far from %g", res.Lag, lag)
	}
	if iv := res.Spread.Interval95; !(iv.Low < 0.8e-3 && 0.8e-3 < iv.High) {
		t.Errorf("spread %v", res.Spread)
	}
	mean, u := res.Curve(2.8, 0)
	if !(mean > 0.14 && mean < 0.18 && u > 0 && u < 2e-3) {
		t.Errorf("curve %g +- %g", mean, u)
	}
	if len(res.Advance) != 4 || res.Advance[0].N != 6 || res.Advance[0].Tolerance95 == nil {
		t.Errorf("advance %+v", res.Advance)
	}
	if len(res.Advice) == 0 || !(res.Advice[0].ULagAfter < res.Lag.U) {
		t.Errorf("advice %+v", res.Advice)
	}
	again, _ := Lag(run)
	again.Curve, res.Curve = nil, nil
	if !reflect.DeepEqual(again, res) {
		t.Error("two calls differ")
	}
}

func TestWhatCanBeTold(t *testing.T) {
	shot := func(drop, speed, delay, adv float64, group string) Shot {
		return Shot{Drop: drop, Speed: speed, Delay: delay, Advance: adv, AdvanceU: 1e-4, Group: group}
	}
	oneHeight := func(trip *float64) Run {
		run, _ := drops(3, []float64{0.4}, 6, 0.8e-3)
		run.TripU = trip
		return run
	}
	sweep := func(trip *float64, speeds ...float64) Run {
		rng := rand.New(rand.NewPCG(5, 5))
		run := Run{TripU: trip}
		for g, v := range speeds {
			for _, d := range []float64{0, 0.01, 0.02} {
				for k := 0; k < 4; k++ {
					run.Shots = append(run.Shots, shot(0, 0, d, v*(0.0523+d)+2e-4*rng.NormFloat64(),
						string(rune('a'+g))))
				}
			}
		}
		return run
	}
	for _, c := range []struct {
		name string
		run  Run
		want []string
		code string
	}{
		{"one height, trip place known", oneHeight(ptr(2e-4)), []string{"lag", "spread", "next_shot", "advance"}, ""},
		{"one height, trip place unknown", oneHeight(nil), []string{"advance"}, "one-speed"},
		{"one push speed, trip place unknown", Run{Shots: []Shot{shot(0, 1.5, 0, 0.0786, ""),
			shot(0, 1.5, 0, 0.0790, ""), shot(0, 1.5, 0, 0.0779, ""), shot(0, 1.5, 0, 0.0783, "")}},
			[]string{"spread", "advance"}, "one-speed"},
		{"sweep, trip place known", sweep(ptr(2e-4), 1.5),
			[]string{"lag", "spread", "next_shot", "speeds", "advance"}, ""},
		{"sweep, trip place unknown", sweep(nil, 1.5), []string{"spread", "speeds", "advance"}, "trip-unknown"},
		{"two sweeps", sweep(nil, 1.0, 2.0), []string{"lag", "spread", "next_shot", "trip_offset", "speeds",
			"advance"}, ""},
		{"two sweeps at one speed", sweep(nil, 1.5, 1.5), []string{"spread", "speeds", "advance"}, "lag-weak"},
		{"no speed", Run{Shots: []Shot{shot(0, 0, 0, 0.078, ""), shot(0, 0, 0, 0.079, ""),
			shot(0, 0, 0, 0.080, "")}}, []string{"advance"}, "no-speed"},
	} {
		res, err := Lag(c.run)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if !reflect.DeepEqual(res.Determined, c.want) {
			t.Errorf("%s: determined %v, want %v", c.name, res.Determined, c.want)
		}
		found := c.code == ""
		for _, n := range res.Notes {
			found = found || n.Code == c.code
		}
		if !found {
			t.Errorf("%s: no note %q in %v", c.name, c.code, res.Notes)
		}
		if res.Lag == nil && len(res.Advice) == 0 {
			t.Errorf("%s: no advice", c.name)
		}
	}
}

func TestBadRuns(t *testing.T) {
	good, _ := drops(1, []float64{0.2, 0.8}, 3, 1e-3)
	change := func(f func(*Run)) Run {
		r := good
		r.Shots = append([]Shot(nil), good.Shots...)
		f(&r)
		return r
	}
	for _, c := range []struct {
		run  Run
		want error
	}{
		{Run{}, ErrNoShots},
		{change(func(r *Run) { r.Shots = r.Shots[:2] }), ErrTooFew},
		{change(func(r *Run) { r.Shots[2].Advance = math.NaN() }), ErrBadShot},
		{change(func(r *Run) { r.Shots[2].Drop = -0.4 }), ErrBadShot},
		{change(func(r *Run) { r.Shots[2].Speed = 1 }), ErrBadShot},
		{change(func(r *Run) { r.Shots[2].AdvanceU = -1 }), ErrBadShot},
		{change(func(r *Run) { r.Gravity = 0 }), ErrBadRun},
		{change(func(r *Run) { r.TripU = ptr(-1) }), ErrBadRun},
	} {
		if _, err := Lag(c.run); !errors.Is(err, c.want) {
			t.Errorf("got %v, want %v", err, c.want)
		}
	}
}

// Equal shots, exact readings and an exactly known trip place: the lag's interval is Student's t, the
// next shot's the prediction interval mean +- t s sqrt(1 + 1/n) (NBS Handbook 91), the spread's
// the chi-squared one. Quantiles from R: qt(.975, 5) = 2.570582, qchisq(c(.025, .975), 5) =
// 0.8312116, 12.8325 (standard table values).
func TestLagIsStudent(t *testing.T) {
	lags := []float64{0.0518, 0.0531, 0.0524, 0.0519, 0.0527, 0.0533}
	run := Run{TripU: ptr(0)}
	mean, ss := 0.0, 0.0
	for _, l := range lags {
		mean += l / 6
		run.Shots = append(run.Shots, Shot{Speed: 1.5, Advance: 1.5 * l})
	}
	for _, l := range lags {
		ss += sq(l - mean)
	}
	s := math.Sqrt(ss / 5)
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	testdata.Near(t, "lag", res.Lag.Value, mean, 1e-9)
	testdata.Near(t, "u", res.Lag.U, s/math.Sqrt(6), 1e-4)
	testdata.Near(t, "df", res.Lag.DF, 5, 1e-3)
	testdata.Near(t, "spread", res.Spread.Value, s, 1e-4)
	testdata.Near(t, "t interval", res.Lag.Interval95.High-mean, 2.570582*s/math.Sqrt(6), 1e-4)
	testdata.Near(t, "prediction interval", res.NextShot.High-mean, 2.570582*s*math.Sqrt(7.0/6), 1e-4)
	testdata.Near(t, "spread, low", res.Spread.Interval95.Low, s*math.Sqrt(5/12.8325), 1e-4)
	testdata.Near(t, "spread, high", res.Spread.Interval95.High, s*math.Sqrt(5/0.8312116), 1e-4)
}
