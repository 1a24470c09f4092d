package fit

import (
	"math"
	"testing"

	gonum "gonum.org/v1/gonum/stat"

	"leadmark/fit/stat"
	"leadmark/testdata"
)

// line is a straight line as Lag reports it: pushes whose advances lie on a + b x, x the speed, b the
// lag and a the trip place.
type line struct {
	a, b, ua, ub, cov float64
	chi2, s           float64 // what the line leaves of the readings: in their variances, and root mean square
	df                float64
	at                func(x float64) (y, u float64)
}

// lineOf fits y = a + b x to readings of one unknown uncertainty: stated twice as large as they
// scatter, so that no spread is left, they count for as much as they do scatter.
func lineOf(t *testing.T, x, y []float64) line {
	t.Helper()
	a, b := gonum.LinearRegression(x, y, nil, false)
	return reported(t, pushes(x, y, 2*scatter(x, y, a, b, 2)))
}

// lineOfPairs is lineOf of what a function gives.
func lineOfPairs(t *testing.T) func(x, y []float64) line {
	return func(x, y []float64) line {
		t.Helper()
		return lineOf(t, x, y)
	}
}

// lineThrough is the same with a = 0.
func lineThrough(t *testing.T, x, y []float64) line {
	t.Helper()
	a, b := gonum.LinearRegression(x, y, nil, true)
	run := pushes(x, y, 2*scatter(x, y, a, b, 1))
	run.TripU = ptr(0)
	return reported(t, run)
}

// scatter is the residual standard deviation about a line of so many unknowns.
func scatter(x, y []float64, a, b float64, unknowns int) float64 {
	sum := 0.0
	for i := range x {
		sum += sq(y[i] - a - b*x[i])
	}
	return math.Sqrt(sum / float64(len(x)-unknowns))
}

// lineStated takes the uncertainties as stated, those of the speeds too. Lag is told four times as
// much, so that no spread is left, and what it makes of the scatter is taken back by the scatter
// itself.
func lineStated(t *testing.T, run Run) line {
	t.Helper()
	const more = 4
	wide := run
	wide.Shots = append([]Shot(nil), run.Shots...)
	for i := range wide.Shots {
		wide.Shots[i].AdvanceU *= more
		wide.Shots[i].SpeedU *= more
	}
	l := reported(t, wide)
	l.chi2 *= more * more
	back := math.Sqrt(l.df / l.chi2)
	l.ua, l.ub, l.cov = l.ua*back, l.ub*back, l.cov*back*back
	return l
}

// reported is what Lag says of a line, no shot taken as odd.
func reported(t *testing.T, run Run) (l line) {
	t.Helper()
	res, err := Lag(run)
	if err != nil || res.Lag == nil || res.Odd != nil || res.Spread.Value != 0 {
		t.Fatalf("%v, lag %v, odd %+v, spread %v", err, res.Lag, res.Odd, res.Spread)
	}
	l = line{b: res.Lag.Value, ub: res.Lag.U, df: res.Lag.DF}
	if res.TripOffset != nil {
		l.a, l.ua = res.TripOffset.Value, res.TripOffset.U
	}
	l.at = func(x float64) (y, u float64) { return res.Curve(x, 0) }
	_, u := l.at(1)
	l.cov = (u*u - l.ua*l.ua - l.ub*l.ub) / 2
	sum := 0.0
	for _, s := range run.Shots {
		r := s.Advance - l.a - l.b*s.Speed
		sum += r * r
		l.chi2 += r * r / (sq(s.AdvanceU) + sq(l.b*s.SpeedU))
	}
	l.s = math.Sqrt(sum / l.df)
	return l
}

// rss is the residual sum of squares.
func (l line) rss() float64 { return sq(l.s) * l.df }

func ones(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = 1
	}
	return out
}

// swept is the x at which a line of readings reaches y0, by Lag: a delay sweep at one unknown speed,
// of which minus the lag is the delay where the advance is that of the trip place. As in lineStated
// the uncertainties are told twice, and taken back.
func swept(t *testing.T, x, y, uy []float64, y0, u0 float64) (x0, u float64) {
	t.Helper()
	run := Run{TripU: &u0}
	for i := range x {
		run.Shots = append(run.Shots, Shot{Delay: x[i], Advance: y[i] - y0, AdvanceU: 2 * uy[i], Group: "a"})
	}
	res, err := Lag(run)
	if err != nil || res.Lag == nil || res.Odd != nil || res.Spread.Value != 0 {
		t.Fatalf("%v, lag %v, odd %+v", err, res.Lag, res.Odd)
	}
	v, chi2 := res.Speeds[0].Value, 0.0
	for i, s := range run.Shots {
		chi2 += sq((s.Advance - v*(res.Lag.Value+s.Delay)) / uy[i])
	}
	reading := sq(res.Lag.U) - sq(u0/v)
	return -res.Lag.Value, math.Sqrt(reading*float64(len(x)-2)/chi2 + sq(u0/v))
}

// NIST StRD Norris, a line: certified to 15 digits, of which some 10 are left where nothing is
// taken off before summing.
func TestLineNorris(t *testing.T) {
	x, y := testdata.NISTLine(t, "Norris")
	l := lineOf(t, x, y)
	testdata.Certifies(t, "Norris", "B0", 1e-11, l.a, l.ua)
	testdata.Certifies(t, "Norris", "B1", 1e-11, l.b, l.ub)
	testdata.Certifies(t, "Norris", "Standard Deviation", 1e-11, l.s)
	testdata.Certifies(t, "Norris", "Residual", 1e-11, l.df, l.rss(), sq(l.s))
	// Unscaled (X'X)^-1 as printed in GSL's public fit/test.c for gsl_fit_wlinear with w = 1.
	w := lineStated(t, pushes(x, y, 1))
	testdata.Near(t, "cov00", w.ua*w.ua, 6.92384428759429e-02, 1e-12)
	testdata.Near(t, "cov01", w.cov, -9.89095016390515e-05, 1e-12)
	testdata.Near(t, "cov11", w.ub*w.ub, 2.35960747164148e-07, 1e-12)
}

// NIST StRD NoInt1 and NoInt2, lines through the origin: the trip place is known. It is never taken
// as known better than to 1e-7, which leaves 1e-10.
func TestLineThroughOriginNoInt(t *testing.T) {
	for _, name := range []string{"NoInt1", "NoInt2"} {
		x, y := testdata.NISTLine(t, name)
		l := lineThrough(t, x, y)
		testdata.Certifies(t, name, "B1", 1e-10, l.b, l.ub)
		testdata.Certifies(t, name, "Standard Deviation", 1e-10, l.s)
		testdata.Certifies(t, name, "Residual", 1e-10, l.df, l.rss(), sq(l.s))
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
		run.Shots[i].Speed = math.Max(x[i], 1e-300) // a speed of 0 is an unknown one
	}
	return run
}

// lineFigures are the six figures that ISO/TS 28037 gives of a line.
func lineFigures(l line) testdata.Quantities {
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
		testdata.Matches(t, c.example, lineFigures(lineStated(t, uncertain(x, ux, y, uy))))
		x0, ux0 := swept(t, x, y, uy, c.y0, c.u0)
		testdata.Matches(t, c.inverse, testdata.Quantities{"x0": x0, "u(x0)": ux0})
	}
	testdata.Matches(t, "ISO/TS 28037 GDR", lineFigures(lineStated(t, uncertain(isoCase(t, "GDR")))))
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
	l := lineStated(t, uncertain(x, ux, y, uy))
	s := math.Sqrt(l.chi2 / l.df)
	testdata.Matches(t, "Pearson with York's weights", testdata.Quantities{"a": l.a, "b": l.b, "S": l.chi2,
		"S/(n-2)": l.chi2 / l.df, "u(a)": l.ua, "u(b)": l.ub, "cov": l.cov, "scaled u(a)": l.ua * s,
		"scaled u(b)": l.ub * s})
	only := lineStated(t, uncertain(x, none, y, uy))
	testdata.Matches(t, "Pearson weighted in y", testdata.Quantities{"a": only.a, "b": only.b})
}

// Pearson's data without York's weights: the orthogonal line (equal uncertainties in x and y) and
// ordinary least squares. Pearson (1901) was off in the third place of a.
func TestPearsonUnweighted(t *testing.T) {
	x, y := testdata.Columns(t, "line/pearson_york.csv", 0, 2)
	u := ones(len(x))
	l := lineStated(t, uncertain(x, u, y, u))
	testdata.Matches(t, "Pearson orthogonal", testdata.Quantities{"a": l.a, "b": l.b})
	l = lineOf(t, x, y)
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
	l := lineOfPairs(t)(gum(t))
	b, u := l.at(10)
	testdata.Matches(t, "GUM H.3", testdata.Quantities{"y1": l.a, "u(y1)": l.ua, "y2": l.b, "u(y2)": l.ub,
		"r": l.cov / l.ua / l.ub, "s": l.s, "RSS": l.rss(), "b(30)": b, "u(b(30))": u,
		"u of a reading at 30": math.Hypot(u, l.s)})
}

// Natrella, Experimental Statistics, NBS Handbook 91, section 5-4.1: Young's modulus against
// temperature.
func TestHandbook91(t *testing.T) {
	x, y := testdata.Columns(t, "nist/handbook91.csv", 0, 1)
	l := lineOf(t, x, y)
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
	l := lineOfPairs(t)(testdata.Columns(t, "line/bevington.csv", 0, 1))
	testdata.Matches(t, "Bevington 6.1", testdata.Quantities{"a": l.a, "u(a)": l.ua, "b": l.b, "u(b)": l.ub,
		"cov": l.cov, "s": l.s})
	l = lineOfPairs(t)(testdata.Columns(t, "line/walpole_myers.csv", 0, 1))
	at, u := l.at(20)
	testdata.Matches(t, "Walpole and Myers", testdata.Quantities{"a": l.a, "u(a)": l.ua, "b": l.b, "u(b)": l.ub,
		"y(20)": at, "u(y(20))": u})
}

// EURACHEM / CITAC Guide, appendix A5 (cadmium from ceramic ware): two readings, 0.0712 and 0.0716, by
// u = s/b sqrt(1/p + 1/n + (x0 - mean)^2 / Sxx), here as a sweep to the mean of two.
func TestSweepToSeveralReadings(t *testing.T) {
	x, y := testdata.Columns(t, "line/citac_a5.csv", 0, 1)
	l := lineOf(t, x, y)
	uy := make([]float64, len(x))
	for i := range uy {
		uy[i] = l.s
	}
	x0, u := swept(t, x, y, uy, (0.0712+0.0716)/2, l.s/math.Sqrt2)
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
	l := lineOf(t, x, y)
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
	l := textbook(d, y)
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

// textbook is ordinary least squares by the formulas of any textbook.
func textbook(x, y []float64) (l line) {
	n := float64(len(x))
	l.a, l.b = gonum.LinearRegression(x, y, nil, false)
	mean, variance := gonum.MeanVariance(x, nil)
	sxx := variance * (n - 1)
	l.s, l.df = scatter(x, y, l.a, l.b, 2), n-2
	l.ub = l.s / math.Sqrt(sxx)
	l.ua = l.s * math.Sqrt(1/n+mean*mean/sxx)
	l.cov = -mean * l.ub * l.ub
	return l
}
