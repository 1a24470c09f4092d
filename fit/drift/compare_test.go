package drift

import (
	"math"
	"math/rand/v2"
	"testing"

	gonum "gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/fit"
	"leadmark/scripts/claim"
	"leadmark/testdata"
)

func mean(value, sd float64, n float64) fit.Estimate {
	return fit.Estimate{Value: value, U: sd / math.Sqrt(n), DF: n - 1}
}

// AUTO83B, NIST e-Handbook 1.3.5.3, as printed by Boost.Math (students_t_two_samples.cpp): n 249
// and 79, unequal variances.
func TestCompareWelch(t *testing.T) {
	a, b := mean(20.14458, 6.41470, 249), mean(30.48101, 6.10771, 79)
	d := Compare(b, a, CompareOptions{})
	testdata.Matches(t, "AUTO83B", testdata.Quantities{"T": d.T, "df": d.DF, "p": d.P})
	testdata.Near(t, "difference", d.Value, 20.14458-30.48101, 1e-12)
	testdata.Near(t, "u", d.U, math.Sqrt(6.41470*6.41470/249+6.10771*6.10771/79), 1e-12)
	if d.Verdict != "differ" {
		t.Error(d.Verdict, d.Note)
	}
}

// JCGM 100:2008 H.3 with a common uncertainty of 0.005 of endless degrees of freedom added to the
// intercept's of nine: 145.3796 effective ones by Welch and Satterthwaite (GTC documentation,
// GUM_H3). A comparison adds two uncertainties in just this way.
func TestWelchSatterthwaiteOfTheGUM(t *testing.T) {
	d := Compare(fit.Estimate{U: testdata.Computed(t, "GUM H.3", "u(y1)"), DF: 9},
		fit.Estimate{U: 0.005, DF: fit.ManyDF}, CompareOptions{})
	testdata.Matches(t, "GUM H.3 compared with 0.005", testdata.Quantities{"u(y1)": d.U, "df(y1)": d.DF})
}

// JAHANMI2, NIST e-Handbook 1.3.5.9 (Boost.Math f_test.cpp): n 240 each, SDs 65.54909 and 61.85425.
func TestCompareSpreadF(t *testing.T) {
	a, b := fit.Estimate{Value: 61.85425, DF: 239}, fit.Estimate{Value: 65.54909, DF: 239}
	r, ok := CompareSpread(a, b)
	if !ok {
		t.Fatal("not told")
	}
	f := distuv.F{D1: 239, D2: 239}
	low, high := fQuantile(f, 0.025), fQuantile(f, 0.975)
	testdata.Matches(t, "JAHANMI2", testdata.Quantities{"F": r.F, "p": r.P, "critical low": low, "critical high": high})
	testdata.Near(t, "interval, low", square(r.Interval95.Low), r.F/high, 1e-9)
	testdata.Near(t, "interval, high", square(r.Interval95.High), r.F/low, 1e-9)
	if r.Differ {
		t.Error(r.Note)
	}
	if _, ok := CompareSpread(fit.Estimate{}, b); ok {
		t.Error("a ratio to a spread of nil was told")
	}
}

// GEAR, NIST e-Handbook 1.3.5.7 and 1.3.5.10: two of ten batches of ten.
func TestCompareGear(t *testing.T) {
	groups := gear(t)
	m4, s4 := gonum.MeanStdDev(groups[3], nil)
	m5, s5 := gonum.MeanStdDev(groups[4], nil)
	d := Compare(mean(m5, s5, 10), mean(m4, s4, 10), CompareOptions{})
	r, _ := CompareSpread(fit.Estimate{Value: s5, DF: 9}, fit.Estimate{Value: s4, DF: 9})
	testdata.Matches(t, "GEAR compared", testdata.Quantities{
		"Welch t of 4 and 5": math.Abs(d.T), "Welch df of 4 and 5": d.DF, "Welch p of 4 and 5": d.P,
		"variance ratio of 4 and 5": math.Min(r.F, 1/r.F)})
}

// gear reads the batches.
func gear(t *testing.T) [][]float64 {
	groups := make([][]float64, 10)
	for _, r := range testdata.Numbers(t, "nist/gear.csv") {
		k := int(r[1]) - 1
		groups[k] = append(groups[k], r[0])
	}
	return groups
}

// Two one-sided tests (Schuirmann 1987): equivalent exactly when the 90 % interval lies within the
// margin.
func TestEquivalence(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	for k := 0; k < 200; k++ {
		a, b := mean(52e-3, 1e-3, float64(4+rng.IntN(20))),
			mean(52e-3+1e-3*rng.NormFloat64(), 1.5e-3, float64(4+rng.IntN(20)))
		margin := 2e-3 * rng.Float64()
		d := Compare(a, b, CompareOptions{Margin: margin})
		half := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: d.DF}.Quantile(0.95) * d.U
		if inside := d.Value+half < margin && d.Value-half > -margin; inside != d.Equivalent {
			t.Fatalf("%+v: interval says %v", d, inside)
		}
		if d.Equivalent != (d.Verdict == "equivalent") {
			t.Errorf("verdict %q", d.Verdict)
		}
	}
	// What both share cancels: the difference of two lags that share all but their scatter.
	a := fit.Estimate{Value: 0.052, U: 5e-4, DF: 20}
	d := Compare(a, a, CompareOptions{Shared: 4e-4})
	testdata.Near(t, "u without the shared part", d.U, math.Sqrt2*3e-4, 1e-12)
}

// calibrated draws a run of drops from two heights with a known lag and spread, and fits it.
func calibrated(t *testing.T, shots int, rng *rand.Rand) fit.Result {
	t.Helper()
	const g, lag, spread, noise = 9.80665, 0.0523, 0.094e-3, 0.1e-3
	run := fit.Run{Gravity: g}
	for _, height := range []float64{0.15, 0.9} {
		for range shots {
			v, tau := math.Sqrt(2*g*height), lag+spread*rng.NormFloat64()
			run.Shots = append(run.Shots, fit.Shot{Drop: height, AdvanceU: noise,
				Advance: 0.0004 + v*tau + g*tau*tau/2 + noise*rng.NormFloat64()})
		}
	}
	res, err := fit.Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// Comparing two simulated calibrations of one rig: the difference's interval holds nil in 95 % of pairs.
func TestCompareHolds(t *testing.T) {
	const pairs = 250
	rng := rand.New(rand.NewPCG(12, 1))
	held, equal, untold := 0, 0, 0
	for k := 0; k < pairs; k++ {
		a, b := calibrated(t, 5, rng), calibrated(t, 8, rng)
		held += holds(Compare(*a.Lag, *b.Lag, CompareOptions{}).Interval95, 0)
		if r, ok := CompareSpread(*a.Spread, *b.Spread); ok {
			equal += holds(r.Interval95, 1)
		} else {
			untold++
		}
	}
	var s claim.Study
	s.Hold("differences that hold nil", claim.Share(held, pairs), claim.Between(0.935, 0.965).Within(0.04))
	s.Hold("ratios of spreads that hold one", claim.Share(equal, pairs-untold), claim.Between(0.935, 0.965).Within(0.04))
	s.LeftOut("no ratio, as a spread was found to be nil", untold, pairs, 0.05)
	s.Held(t)
}

func holds(iv fit.Interval, x float64) int {
	if iv.Low <= x && x <= iv.High {
		return 1
	}
	return 0
}
