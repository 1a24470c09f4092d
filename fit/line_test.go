package fit

import (
	"math"
	"testing"

	"leadmark/fit/mixed"
	"leadmark/fit/outlier"
	"leadmark/fit/stat"
	"leadmark/testdata"
)

// solvedLine is a straight line as the program's own solver fits it: pushes whose advances lie on a
// + b x, x the speed.
type solvedLine struct {
	a, b, ua, ub, cov float64
	chi2              float64 // weighted residual sum of squares
	s                 float64 // residual standard deviation, where the readings' scatter tells it
	df                float64
	at                func(x float64) (y, u float64)
}

// lineOf fits y = a + b x to readings of one unknown uncertainty, which restricted likelihood
// finds: that of the readings is stated twice too large, so that no spread is left.
func lineOf(x, y []float64) solvedLine {
	return lineFree(uncertain(x, make([]float64, len(x)), y, ones(len(x))))
}

// lineThrough is the same with a = 0.
func lineThrough(x, y []float64) solvedLine {
	run := pushes(x, y, 1)
	run.TripU = ptr(0)
	return lineFree(run)
}

func lineFree(run Run) solvedLine {
	stated := lineStated(run)
	u := 2 * math.Sqrt(stated.chi2/stated.df)
	for i := range run.Shots {
		run.Shots[i].AdvanceU = u
	}
	l := solve(run, func(m *mixed.Model) mixed.Point { return m.Maximise(0) })
	l.s = u * math.Sqrt(l.Shrink)
	l.chi2, l.df = l.s*l.s*l.df, 2*l.Info
	return l.solvedLine
}

// lineStated takes the uncertainties as stated, those of the speeds too.
func lineStated(run Run) solvedLine {
	return solve(run, func(m *mixed.Model) mixed.Point { return m.At(0) }).solvedLine
}

// solved is a line with the point of the variance path that it was fitted at.
type solved struct {
	solvedLine
	mixed.Point
}

// solve steps to the solution, adjusting measured speeds, and takes the fit at the place of the
// variance path that place says.
func solve(run Run, place func(*mixed.Model) mixed.Point) solved {
	l := newLayout(run)
	theta, eiv, w := make([]float64, l.p), []float64(nil), ones(len(run.Shots))
	var m *mixed.Model
	var pt mixed.Point
	for range 100 {
		m = l.linearise(theta, w, 0, eiv)
		pt = place(m)
		next := append([]float64(nil), theta...)
		for j := range theta {
			next[j] += pt.Step[j]
		}
		theta = next
		eiv = l.adjustSpeeds(theta, m, pt)
	}
	p := l.p
	out := solvedLine{a: theta[colTrip], b: theta[colLag], ua: math.Sqrt(pt.Cov[colTrip*p+colTrip]),
		ub:  math.Sqrt(pt.Cov[0]),
		cov: pt.Cov[colTrip], chi2: pt.Q, df: float64(m.Spare())}
	curve := (&solution{l, &outlier.Fit{Model: m, Best: pt}}).curve()
	out.at = func(x float64) (y, u float64) { return curve(x, 0) }
	return solved{out, pt}
}

// inverse is the x at which the line reaches y0, a value of standard uncertainty u0: ISO/TS
// 28037:2010, clause 11.
func (l solvedLine) inverse(y0, u0 float64) (x0, u float64) {
	x0 = (y0 - l.a) / l.b
	_, um := l.at(x0)
	return x0, math.Hypot(um, u0) / math.Abs(l.b)
}

func ones(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = 1
	}
	return out
}

// swept is the x at which a line of readings reaches y0, by the solver: a delay sweep at one
// unknown speed, of which minus the lag is the delay where the advance is that of the trip place.
func swept(x, y, uy []float64, y0, u0 float64) (x0, u float64) {
	run := Run{TripU: &u0}
	for i := range x {
		run.Shots = append(run.Shots, Shot{Delay: x[i], Advance: y[i] - y0, AdvanceU: uy[i], Group: "a"})
	}
	l := newLayout(run)
	theta, _ := l.start()
	w := ones(len(x))
	var pt mixed.Point
	for range 100 {
		pt = l.linearise(theta, w, 0, nil).At(0)
		for j := range theta {
			theta[j] += pt.Step[j]
		}
	}
	return -theta[colLag], math.Sqrt(pt.Cov[0])
}

// NIST StRD Norris, a line: certified to 15 digits, of which some 10 are left where nothing is
// taken off before summing.
func TestLineNorris(t *testing.T) {
	x, y := testdata.NISTLine(t, "Norris")
	l := lineOf(x, y)
	testdata.Certifies(t, "Norris", "B0", 1e-11, l.a, l.ua)
	testdata.Certifies(t, "Norris", "B1", 1e-11, l.b, l.ub)
	testdata.Certifies(t, "Norris", "Standard Deviation", 1e-11, l.s)
	testdata.Certifies(t, "Norris", "Residual", 1e-11, l.df, l.chi2, sq(l.s))
	// Unscaled (X'X)^-1 as printed in GSL's public fit/test.c for gsl_fit_wlinear with w = 1.
	w := lineStated(pushes(x, y, 1))
	testdata.Near(t, "cov00", w.ua*w.ua, 6.92384428759429e-02, 1e-12)
	testdata.Near(t, "cov01", w.cov, -9.89095016390515e-05, 1e-12)
	testdata.Near(t, "cov11", w.ub*w.ub, 2.35960747164148e-07, 1e-12)
}

// NIST StRD NoInt1 and NoInt2, lines through the origin: the trip place is known. It is never taken
// as known better than to 1e-7, which leaves 1e-10.
func TestLineThroughOriginNoInt(t *testing.T) {
	for _, name := range []string{"NoInt1", "NoInt2"} {
		x, y := testdata.NISTLine(t, name)
		l := lineThrough(x, y)
		testdata.Certifies(t, name, "B1", 1e-10, l.b, l.ub)
		testdata.Certifies(t, name, "Standard Deviation", 1e-10, l.s)
		testdata.Certifies(t, name, "Residual", 1e-10, l.df, l.chi2, sq(l.s))
	}
}

// isoCase reads the points of a worked example of ISO/TS 28037:2010 with their standard uncertainties.
func isoCase(t *testing.T, name string) (x, ux, y, uy []float64) {
	t.Helper()
	for _, r := range testdata.Table(t, "line/iso_ts_28037.csv") {
		if r["case"] == name {
			x, ux = append(x, testdata.Number(t, name, r["x"])), append(ux, testdata.Number(t, name, r["ux"]))
			y, uy = append(y, testdata.Number(t, name, r["y"])), append(uy, testdata.Number(t, name, r["uy"]))
		}
	}
	if len(x) == 0 {
		t.Fatalf("no case %s", name)
	}
	return x, ux, y, uy
}

// uncertain makes a run of pushes at measured speeds.
func uncertain(x, ux, y, uy []float64) Run {
	run := Run{}
	for i := range x {
		run.Shots = append(run.Shots, Shot{Speed: x[i], SpeedU: ux[i], Advance: y[i], AdvanceU: uy[i]})
		if x[i] == 0 { // a speed of 0 is an unknown one
			run.Shots[i].Speed = 1e-300
		}
	}
	return run
}

// lineFigures are the six figures that ISO/TS 28037 gives of a line.
func lineFigures(l solvedLine) testdata.Quantities {
	return testdata.Quantities{"a": l.a, "b": l.b, "u(a)": l.ua, "u(b)": l.ub, "cov": l.cov, "chi2": l.chi2}
}

// ISO/TS 28037:2010, worked examples: known uncertainties of y, and the x of a further reading,
// which is what a delay sweep asks for; uncertain in both (York's line).
func TestISO28037(t *testing.T) {
	for _, c := range []struct {
		points, example, inverse string
		y0, u0                   float64
	}{
		{"WLS1", "ISO/TS 28037 WLS1", "ISO/TS 28037 WLS1 inverse", 10.5, 0.5},
		{"WLS2", "ISO/TS 28037 WLS2", "ISO/TS 28037 WLS2 inverse", 10.5, 1.0},
	} {
		x, ux, y, uy := isoCase(t, c.points)
		testdata.Matches(t, c.example, lineFigures(lineStated(uncertain(x, ux, y, uy))))
		x0, ux0 := swept(x, y, uy, c.y0, c.u0)
		testdata.Matches(t, c.inverse, testdata.Quantities{"x0": x0, "u(x0)": ux0})
	}
	testdata.Matches(t, "ISO/TS 28037 GDR", lineFigures(lineStated(uncertain(isoCase(t, "GDR")))))
}

// Pearson's data with York's weights: York's standard errors are those of 2004, at the adjusted
// points and not scaled.
func TestPearsonYork(t *testing.T) {
	x, wx := testdata.Columns(t, "line/pearson_york.csv", 0, 1)
	y, wy := testdata.Columns(t, "line/pearson_york.csv", 2, 3)
	none, ux, uy := make([]float64, len(x)), make([]float64, len(x)), make([]float64, len(x))
	for i := range wx {
		ux[i], uy[i] = 1/math.Sqrt(wx[i]), 1/math.Sqrt(wy[i])
	}
	l := lineStated(uncertain(x, ux, y, uy))
	s := math.Sqrt(l.chi2 / l.df)
	testdata.Matches(t, "Pearson with York's weights", testdata.Quantities{"a": l.a, "b": l.b, "S": l.chi2,
		"S/(n-2)": l.chi2 / l.df, "u(a)": l.ua, "u(b)": l.ub, "cov": l.cov, "scaled u(a)": l.ua * s,
		"scaled u(b)": l.ub * s})
	only := lineStated(uncertain(x, none, y, uy))
	testdata.Matches(t, "Pearson weighted in y", testdata.Quantities{"a": only.a, "b": only.b})
}

// Pearson's data without York's weights: the orthogonal line (equal uncertainties in x and y) and
// ordinary least squares. Pearson (1901) was off in the third place of a.
func TestPearsonUnweighted(t *testing.T) {
	x, y := testdata.Columns(t, "line/pearson_york.csv", 0, 2)
	u := ones(len(x))
	l := lineStated(uncertain(x, u, y, u))
	testdata.Matches(t, "Pearson orthogonal", testdata.Quantities{"a": l.a, "b": l.b})
	l = lineOf(x, y)
	testdata.Matches(t, "Pearson least squares", testdata.Quantities{"a": l.a, "b": l.b})
}

// gum reads JCGM 100:2008, table H.6: temperatures above the example's 20 degrees, and corrections.
func gum(t *testing.T) (x, y []float64) {
	t.Helper()
	x, y = testdata.Columns(t, "line/gum_h3.csv", 1, 2)
	for i := range x {
		x[i] -= 20
	}
	return x, y
}

// JCGM 100:2008 H.3, the calibration of a thermometer.
func TestGUMH3(t *testing.T) {
	l := lineOf(gum(t))
	b, u := l.at(10)
	testdata.Matches(t, "GUM H.3", testdata.Quantities{"y1": l.a, "u(y1)": l.ua, "y2": l.b, "u(y2)": l.ub,
		"r": l.cov / l.ua / l.ub, "s": l.s, "RSS": l.chi2, "b(30)": b, "u(b(30))": u,
		"u of a reading at 30": math.Hypot(u, l.s)})
}

// Natrella, Experimental Statistics, NBS Handbook 91, section 5-4.1: Young's modulus against
// temperature.
func TestHandbook91(t *testing.T) {
	x, y := testdata.Columns(t, "nist/handbook91.csv", 0, 1)
	l := lineOf(x, y)
	figures := testdata.Quantities{"b0": l.a, "Var b0": sq(l.ua), "b1": l.b, "Var b1": sq(l.ub), "s": l.s,
		"t(.975;14)": stat.T95(14)}
	for at, x := range map[string]float64{"(750)": 750, "(1200)": 1200} {
		mean, u := l.at(x)
		figures["y"+at], figures["Var mean"+at], figures["Var reading"+at] = mean, sq(u), sq(u)+sq(l.s)
		figures["confidence"+at], figures["prediction"+at] = stat.T95(l.df)*u, stat.T95(l.df)*math.Hypot(u, l.s)
	}
	testdata.Matches(t, "Handbook 91", figures)
}

// Bevington, table 6.1, and Walpole and Myers, n = 33 (testdata/README.md says by whom quoted).
func TestLineTextbooks(t *testing.T) {
	l := lineOf(testdata.Columns(t, "line/bevington.csv", 0, 1))
	testdata.Matches(t, "Bevington 6.1", testdata.Quantities{"a": l.a, "u(a)": l.ua, "b": l.b, "u(b)": l.ub,
		"cov": l.cov, "s": l.s})
	l = lineOf(testdata.Columns(t, "line/walpole_myers.csv", 0, 1))
	at, u := l.at(20)
	testdata.Matches(t, "Walpole and Myers", testdata.Quantities{"a": l.a, "u(a)": l.ua, "b": l.b, "u(b)": l.ub,
		"y(20)": at, "u(y(20))": u})
}

// EURACHEM / CITAC Guide, appendix A5 (cadmium from ceramic ware): two readings, 0.0712 and 0.0716, by
// u = s/b sqrt(1/p + 1/n + (x0 - mean)^2 / Sxx), here as a sweep to the mean of two.
func TestSweepToSeveralReadings(t *testing.T) {
	x, y := testdata.Columns(t, "line/citac_a5.csv", 0, 1)
	l := lineOf(x, y)
	uy := make([]float64, len(x))
	for i := range uy {
		uy[i] = l.s
	}
	x0, u := swept(x, y, uy, (0.0712+0.0716)/2, l.s/math.Sqrt2)
	testdata.Matches(t, "CITAC A5", testdata.Quantities{"a": l.a, "u(a)": l.ua, "b": l.b, "u(b)": l.ub,
		"r": l.cov / l.ua / l.ub, "x0": x0, "u(x0)": u})
	sxx := 1.2 // three times 0.16 + 0.04 + 0 + 0.04 + 0.16
	testdata.Near(t, "u(x0) by the guide's formula", u, l.s/l.b*math.Sqrt(1.0/2+1.0/15+sq(x0-0.5)/sxx), 1e-9)
}

// The pooled test of AUTO83B (e-Handbook 1.3.5.3) is the t test of a line's slope through two
// places. The values are made up to have the published means and standard deviations exactly.
func TestPooledIsSlope(t *testing.T) {
	var x, y []float64
	add := func(at, mean, sd float64, n int) {
		for i := 0; i < n; i++ {
			v := mean
			if k := n - n%2; i < k {
				v += sd * math.Sqrt(float64(n-1)/float64(k)) * float64(1-2*(i%2))
			}
			x, y = append(x, at), append(y, v)
		}
	}
	add(1, 30.48101, 6.10771, 79) // at 1 and 2: a speed of 0 is an unknown one
	add(2, 20.14458, 6.41470, 249)
	l := lineOf(x, y)
	testdata.Matches(t, "AUTO83B pooled", testdata.Quantities{"T": l.b / l.ub, "p": 2 * studentTail(l.b/l.ub, l.df)})
	testdata.Near(t, "difference", l.b, 20.14458-30.48101, 1e-12)
	testdata.Near(t, "df", l.df, 326, 1e-9)
}

// Fieller, J. R. Stat. Soc. B 16 (1954) 175: the places where a line of poorly known slope may
// reach y0 are those of which (y0 - a - b x)^2 <= t^2 (u(a)^2 + 2 x cov + x^2 u(b)^2). One sweep of
// poorly known speed has this interval for its lag.
func TestLagOfOneSweepIsFieller(t *testing.T) {
	d := []float64{0, 0, 0.005, 0.005, 0.010, 0.010, 0.015, 0.015, 0.020, 0.020}
	y := []float64{0.0786, 0.0799, 0.0858, 0.0871, 0.0938, 0.0921, 0.1009, 0.1026, 0.1087, 0.1070}
	run := Run{TripU: ptr(0)}
	for i := range d {
		run.Shots = append(run.Shots, Shot{Delay: d[i], Advance: y[i], Group: "a"})
	}
	res, err := Lag(run)
	if err != nil {
		t.Fatal(err)
	}
	l := lineOf(d, y)
	k := sq(stat.T95(l.df))
	a, b, c := l.b*l.b-k*l.ub*l.ub, 2*l.a*l.b-2*k*l.cov, l.a*l.a-k*l.ua*l.ua
	root := math.Sqrt(b*b - 4*a*c)
	low, high := (b-root)/(2*a), (b+root)/(2*a) // of -x
	iv := res.Lag.Interval95
	t.Logf("interval %.6g to %.6g, Fieller's %.6g to %.6g, symmetric %.6g to %.6g", iv.Low, iv.High, low, high,
		res.Lag.Value-stat.T95(res.Lag.DF)*res.Lag.U, res.Lag.Value+stat.T95(res.Lag.DF)*res.Lag.U)
	testdata.Near(t, "low", res.Lag.Value-iv.Low, l.a/l.b-low, 1e-4)
	testdata.Near(t, "high", iv.High-res.Lag.Value, high-l.a/l.b, 1e-4)
}
