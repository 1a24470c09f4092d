package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	gonum "gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/fit/stat"
	"leadmark/testdata"
)

func mean(value, sd float64, n float64) Estimate {
	return Estimate{Value: value, U: sd / math.Sqrt(n), DF: n - 1}
}

// AUTO83B, NIST e-Handbook 1.3.5.3, as printed by Boost.Math (students_t_two_samples.cpp): n 249 and 79, unequal
// variances.
func TestCompareWelch(t *testing.T) {
	a, b := mean(20.14458, 6.41470, 249), mean(30.48101, 6.10771, 79)
	d := Compare(b, a, CompareOptions{})
	testdata.Matches(t, "AUTO83B", testdata.Quantities{"T": d.T, "df": d.DF, "p": d.P})
	testdata.Near(t, "difference", d.Value, 20.14458-30.48101, 1e-12)
	testdata.Near(t, "u", d.U, math.Sqrt(6.41470*6.41470/249+6.10771*6.10771/79), 1e-12)
	if d.Verdict != "differ" {
		t.Error(d.Verdict, d.Text)
	}
}

// JAHANMI2, NIST e-Handbook 1.3.5.9 (Boost.Math f_test.cpp): n 240 each, SDs 65.54909 and 61.85425.
func TestCompareSpreadF(t *testing.T) {
	a, b := Estimate{Value: 61.85425, DF: 239}, Estimate{Value: 65.54909, DF: 239}
	r, ok := CompareSpread(a, b)
	if !ok {
		t.Fatal("not told")
	}
	f := distuv.F{D1: 239, D2: 239}
	low, high := fQuantile(f, 0.025), fQuantile(f, 0.975)
	testdata.Matches(t, "JAHANMI2", testdata.Quantities{"F": r.F, "p": r.P, "critical low": low, "critical high": high})
	testdata.Near(t, "interval, low", sq(r.Interval95.Low), r.F/high, 1e-9)
	testdata.Near(t, "interval, high", sq(r.Interval95.High), r.F/low, 1e-9)
	if r.Differ {
		t.Error(r.Text)
	}
	if _, ok := CompareSpread(Estimate{}, b); ok {
		t.Error("a ratio to a spread of nil was told")
	}
}

// GEAR, NIST e-Handbook 1.3.5.7 and 1.3.5.10: two of ten batches of ten.
func TestCompareGear(t *testing.T) {
	groups := gear(t)
	m4, s4 := gonum.MeanStdDev(groups[3], nil)
	m5, s5 := gonum.MeanStdDev(groups[4], nil)
	d := Compare(mean(m5, s5, 10), mean(m4, s4, 10), CompareOptions{})
	r, _ := CompareSpread(Estimate{Value: s5, DF: 9}, Estimate{Value: s4, DF: 9})
	testdata.Matches(t, "GEAR compared", testdata.Quantities{
		"Welch t of 4 and 5": math.Abs(d.T), "Welch df of 4 and 5": d.DF, "Welch p of 4 and 5": d.P,
		"variance ratio of 4 and 5": math.Min(r.F, 1/r.F), "chi2(.95;9)": distuv.ChiSquared{K: 9}.Quantile(0.95),
		"F(.95;9,90)": fQuantile(distuv.F{D1: 9, D2: 90}, 0.95)})
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

// Two one-sided tests (Schuirmann 1987): equivalent exactly when the 90 % interval lies within the margin.
func TestEquivalence(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	for k := 0; k < 200; k++ {
		a, b := mean(52e-3, 1e-3, float64(4+rng.IntN(20))), mean(52e-3+1e-3*rng.NormFloat64(), 1.5e-3, float64(4+rng.IntN(20)))
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
	a := Estimate{Value: 0.052, U: 5e-4, DF: 20}
	d := Compare(a, a, CompareOptions{Shared: 4e-4})
	testdata.Near(t, "u without the shared part", d.U, math.Sqrt2*3e-4, 1e-12)
}

// Comparing two simulated calibrations of one rig: the difference's interval holds nil in 95 % of pairs.
func TestCompareHolds(t *testing.T) {
	const pairs = 250
	rng := rand.New(rand.NewPCG(12, 1))
	held, equal := 0.0, 0.0
	for k := 0; k < pairs; k++ {
		var two [2]Result
		for i := range two {
			run, _ := simulate(cell{"drop", 2, 5 + 3*i, 3, false, false}, rng)
			two[i] = quick(run)
		}
		held += holds(Compare(*two[0].Lag, *two[1].Lag, CompareOptions{}).Interval95, 0)
		if r, ok := CompareSpread(*two[0].Spread, *two[1].Spread); ok {
			equal += holds(r.Interval95, 1)
		} else {
			equal++
		}
	}
	for name, got := range map[string]float64{"difference": held / pairs, "spread ratio": equal / pairs} {
		t.Logf("%s held in %.1f %%", name, 100*got)
		if math.Abs(got-0.95) > 0.015+3*math.Sqrt(0.95*0.05/pairs) {
			t.Errorf("%s held in %.1f %% of pairs", name, 100*got)
		}
	}
}

// What a history keeps of an estimate gives its degrees of freedom back.
func TestFromInterval(t *testing.T) {
	for _, df := range []float64{1.5, 4, 11.3, 200} {
		half := stat.T95(df) * 2e-4
		e := FromInterval(0.052, 2e-4, Interval{0.052 - half, 0.052 + half})
		testdata.Near(t, "df", e.DF, df, 1e-6)
	}
	chi := distuv.ChiSquared{K: 9}
	s := SpreadFromInterval(1e-3, Interval{1e-3 * math.Sqrt(9/chi.Quantile(0.975)), 1e-3 * math.Sqrt(9/chi.Quantile(0.025))})
	testdata.Near(t, "df of a spread", s.DF, 9, 1e-6)
}
