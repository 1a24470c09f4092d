package fit

import (
	"errors"
	"math"
	"testing"
)

// near fails unless got and want agree within a relative tolerance.
func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.15g, want %.15g (rel %.1e, allowed %.1e)", what, got, want, math.Abs(got/want-1), rel)
	}
}

// within fails unless got and want agree within an absolute tolerance.
func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.15g, want %.15g +- %g", what, got, want, tol)
	}
}

// Norris: NIST StRD, linear regression, Norris.dat (US Government work). y then x.
var norrisY = []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}
var norrisX = []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}

func TestStraightNorris(t *testing.T) {
	l, err := Straight(norrisX, norrisY, nil)
	if err != nil {
		t.Fatal(err)
	}
	// Certified values, NIST StRD Norris.dat; 1e-12 leaves room for float64 rounding only.
	near(t, "B0", l.A, -0.262323073774029, 1e-12)
	near(t, "SD B0", l.UA, 0.232818234301152, 1e-12)
	near(t, "B1", l.B, 1.00211681802045, 1e-12)
	near(t, "SD B1", l.UB, 0.429796848199937e-03, 1e-12)
	near(t, "residual SD", l.S, 0.884796396144373, 1e-12)
	near(t, "R2", l.R2, 0.999993745883712, 1e-13)
	near(t, "SS regression", l.SSReg, 4255954.13232369, 1e-12)
	near(t, "SS residual", l.ChiSq, 26.6173985294224, 1e-12)
	near(t, "F", l.F, 5436385.54079785, 1e-12)
	within(t, "df", l.DF, 34, 0)
	// Unscaled (X'X)^-1 as printed in GSL's public fit/test.c for gsl_fit_wlinear with w = 1.
	ones := make([]float64, len(norrisX))
	for i := range ones {
		ones[i] = 1
	}
	w, err := Straight(norrisX, norrisY, ones)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cov00", w.UA*w.UA, 6.92384428759429e-02, 1e-12)
	near(t, "cov01", w.Cov, -9.89095016390515e-05, 1e-12)
	near(t, "cov11", w.UB*w.UB, 2.35960747164148e-07, 1e-12)
}

// NIST StRD NoInt1 and NoInt2: lines through the origin; R2 is about zero.
func TestOriginNoInt(t *testing.T) {
	var x, y []float64
	for i := 0; i <= 10; i++ {
		x, y = append(x, float64(60+i)), append(y, float64(130+i))
	}
	l, err := Origin(x, y, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "B1", l.B, 2.07438016528926, 1e-13)
	near(t, "SD", l.UB, 0.165289256198347e-01, 1e-13)
	near(t, "s", l.S, 3.56753034006338, 1e-13)
	near(t, "R2", l.R2, 0.999365492298663, 1e-13)
	near(t, "F", l.F, 15750.25, 1e-13)
	near(t, "SS regression", l.SSReg, 200457.727272727, 1e-13)
	near(t, "RSS", l.ChiSq, 127.272727272727, 1e-13)
	l, err = Origin([]float64{4, 5, 6}, []float64{3, 4, 4}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "NoInt2 B1", l.B, 8.0/11, 1e-13)
	near(t, "NoInt2 SD", l.UB, 0.420827318078432e-01, 1e-13)
	near(t, "NoInt2 s", l.S, 0.369274472937998, 1e-13)
	near(t, "NoInt2 R2", l.R2, 0.993348115299335, 1e-13)
	near(t, "NoInt2 F", l.F, 298.666666666667, 1e-13)
	near(t, "NoInt2 RSS", l.ChiSq, 0.272727272727273, 2e-13) // printed to 15 digits only
}

// ISO/TS 28037:2010 worked examples, as quoted in the GTC test suite (MSLNZ/GTC 1c165fce,
// test/test_fitting.py, pages 13, 14, 21 of the specification); longer digits computed with numpy.
func TestISO28037(t *testing.T) {
	x := []float64{1, 2, 3, 4, 5, 6}
	for _, c := range []struct {
		name                             string
		y, u                             []float64
		a, b, ua, ub, cov, chi           float64 // computed
		pa, pb, pua, pub, pcov, pchi     float64 // published, one unit of the last digit allowed
		y0, u0, x0, ux0, px0, pux0, last float64
	}{
		{"WLS1", []float64{3.3, 5.6, 7.1, 9.3, 10.7, 12.1}, []float64{.5, .5, .5, .5, .5, .5},
			1.8666667, 1.7571429, 0.4654747, 0.1195229, -0.05, 1.6647619,
			1.867, 1.757, 0.465, 0.120, -0.050, 1.665, 10.5, 0.5, 4.9132791, 0.3220356, 4.913, 0.322, 1e-3},
		{"WLS2", []float64{3.2, 4.3, 7.6, 8.6, 11.7, 12.8}, []float64{.5, .5, .5, 1, 1, 1},
			0.8852321, 2.0569620, 0.5297081, 0.1778920, -0.0822785, 4.1308017,
			0.885, 2.057, 0.530, 0.178, -0.082, 4.131, 10.5, 1.0, 4.6742564, 0.5331809, 4.674, 0.533, 1e-3},
	} {
		w := make([]float64, len(c.u))
		for i, u := range c.u {
			w[i] = 1 / (u * u)
		}
		l, err := Straight(x, c.y, w)
		if err != nil {
			t.Fatal(err)
		}
		x0, ux0 := l.Inverse(c.y0, c.u0)
		for _, q := range []struct {
			name           string
			got, com, publ float64
		}{{"a", l.A, c.a, c.pa}, {"b", l.B, c.b, c.pb}, {"u(a)", l.UA, c.ua, c.pua}, {"u(b)", l.UB, c.ub, c.pub},
			{"cov", l.Cov, c.cov, c.pcov}, {"chi2", l.ChiSq, c.chi, c.pchi}, {"x0", x0, c.x0, c.px0}, {"u(x0)", ux0, c.ux0, c.pux0}} {
			near(t, c.name+" "+q.name, q.got, q.com, 1e-6)
			within(t, c.name+" published "+q.name, q.got, q.publ, c.last)
		}
	}
	// GDR: uncertain in both directions.
	l, err := York([]float64{1.2, 1.9, 2.9, 4, 4.7, 5.9}, []float64{3.4, 4.4, 7.2, 8.5, 10.8, 13.5},
		[]float64{.2, .2, .2, .2, .2, .2}, []float64{.2, .2, .2, .4, .4, .4}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range []struct {
		name           string
		got, com, publ float64
	}{{"a", l.A, 0.5788221, 0.5788}, {"b", l.B, 2.1596566, 2.1597}, {"u(a)", l.UA, 0.4764206, 0.4764},
		{"u(b)", l.UB, 0.1355479, 0.1355}, {"cov", l.Cov, -0.0577169, -0.0577}, {"chi2", l.ChiSq, 2.7426768, 2.743}} {
		near(t, "GDR "+q.name, q.got, q.com, 1e-6)
		within(t, "GDR published "+q.name, q.got, q.publ, 4e-4)
	}
}

// Pearson's data with York's weights. Williamson's values as printed in the kmpfit documentation;
// standard errors of York 2004 (adjusted points, not scaled) as printed in the test file of the R
// package bfsl; the scaled ones from a public test of the same iteration.
func TestPearsonYork(t *testing.T) {
	x := []float64{0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4}
	y := []float64{5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5}
	wx := []float64{1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1}
	wy := []float64{1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500}
	ux, uy := make([]float64, 10), make([]float64, 10)
	for i := range wx {
		ux[i], uy[i] = 1/math.Sqrt(wx[i]), 1/math.Sqrt(wy[i])
	}
	l, err := York(x, y, ux, uy, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a", l.A, 5.47991022403, 1e-11)
	near(t, "b", l.B, -0.48053340745, 1e-11)
	near(t, "S", l.ChiSq, 11.8663531941, 1e-11)
	near(t, "S/(n-2)", l.ChiSq/l.DF, 1.483294149258, 1e-12)
	near(t, "u(a)", l.UA, 0.2949707355, 1e-9)
	near(t, "u(b)", l.UB, 0.05798500900, 1e-9)
	near(t, "cov", l.Cov, -0.0164725447, 1e-8)
	near(t, "scaled u(a)", l.UA*l.S, 0.359246522551, 1e-9)
	near(t, "scaled u(b)", l.UB*l.S, 0.070620269529, 1e-9)
	only, err := Straight(x, y, wy)
	if err != nil {
		t.Fatal(err)
	}
	// kmpfit's figures come from an iterative fit that stops at about 1e-8.
	near(t, "y-weights only a", only.A, 6.10010929336, 1e-8)
	near(t, "y-weights only b", only.B, -0.61081295310, 1e-8)
}

// JCGM 100:2008 H.3, Table H.6; published digits and GTC's documentation (GUM_H3.rst).
var gumT = []float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
var gumB = []float64{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160}

func TestGUMH3(t *testing.T) {
	x := make([]float64, len(gumT))
	for i := range x {
		x[i] = gumT[i] - 20
	}
	l, err := Straight(x, gumB, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "y1", l.A, -0.1712037901, 2e-8)
	near(t, "u(y1)", l.UA, 0.0028775978, 2e-8)
	near(t, "y2", l.B, 0.002182697740, 2e-8)
	near(t, "u(y2)", l.UB, 0.000667938773, 2e-8)
	near(t, "r", l.Cov/l.UA/l.UB, -0.93042960, 2e-8)
	near(t, "s", l.S, 0.0034975640, 2e-8)
	near(t, "RSS", l.ChiSq, 0.000110096583109, 1e-11)
	b, u := l.At(10)
	near(t, "b(30)", b, -0.1493768127, 2e-8)
	near(t, "u(b(30))", u, 0.0041385958, 2e-8)
	near(t, "single reading at 30", math.Hypot(u, l.S), 0.0054185726, 2e-8)
	for _, q := range [][3]float64{{l.A, -0.1712, 1e-4}, {l.UA, 0.0029, 1e-4}, {l.B, 0.00218, 1e-5}, {l.UB, 0.00067, 1e-5}, {u, 0.0041, 1e-4}} {
		within(t, "as printed", q[0], q[1], q[2])
	}
}

// Natrella, Experimental Statistics, NBS Handbook 91 (public domain), section 5-4.1: Young's modulus
// against temperature. Published variances 1e-4; computed ones (numpy) 1e-6.
func TestHandbook91(t *testing.T) {
	x := []float64{30, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1100, 1200, 1300, 1400, 1500}
	y := []float64{4642, 4612, 4565, 4513, 4476, 4433, 4389, 4347, 4303, 4251, 4201, 4140, 4100, 4073, 4024, 3999}
	l, err := Straight(x, y, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "b0", l.A, 4654.9846, 1e-8)
	near(t, "Var b0", l.UA*l.UA, 19.879452, 1e-6)
	near(t, "b1", l.B, -0.44985482, 1e-7)
	near(t, "Var b1", l.UB*l.UB, 0.000025649045, 1e-6)
	near(t, "s", l.S, 9.277617, 1e-6)
	for _, q := range []struct{ x, y, mean, pred, ci, pi float64 }{
		{750, 4317.5935, 5.3797, 91.4539, 4.9747, 20.5109}, {1200, 4115.1588, 10.5304, 96.6046, 6.9599, 21.0806}} {
		at, u := l.At(q.x)
		near(t, "y", at, q.y, 1e-7)
		near(t, "Var mean", u*u, q.mean, 1e-5)
		near(t, "Var one reading", u*u+l.S*l.S, q.pred, 1e-5)
		near(t, "confidence", (l.Confidence95(q.x).High-l.Confidence95(q.x).Low)/2, q.ci, 1e-5)
		near(t, "prediction", (l.Predict95(q.x, l.S).High-l.Predict95(q.x, l.S).Low)/2, q.pi, 1e-5)
	}
	_, u1200 := l.At(1200)
	within(t, "Handbook Var at 1200", u1200*u1200, 10.53, 0.005)
	_, u750 := l.At(750)
	within(t, "Handbook Var of a reading at 750", u750*u750+l.S*l.S, 91.45, 0.01)
	near(t, "2F(.95;2,14)", workingHotelling(14), 7.47778366, 1e-8)
}

// Fieller, J. R. Stat. Soc. B 16 (1954) 175: no table, the defining property is checked.
func TestInverseFieller(t *testing.T) {
	l, err := Straight(norrisX, norrisY, nil)
	if err != nil {
		t.Fatal(err)
	}
	// A steep, well-known slope: Fieller and the first-order interval agree.
	x0, u := l.Inverse(500, l.S)
	iv, ok := l.InverseInterval95(500, l.S)
	if !ok {
		t.Fatal("no interval")
	}
	near(t, "low", iv.Low, x0-students(34)*u, 1e-6)
	near(t, "high", iv.High, x0+students(34)*u, 1e-6)
	// Fieller's own condition: the interval's ends are where y0 leaves the prediction band.
	near(t, "band at the lower end", l.Predict95(iv.Low, l.S).High, 500, 1e-9)
	near(t, "band at the upper end", l.Predict95(iv.High, l.S).Low, 500, 1e-9)
	flat, err := Straight([]float64{1, 2, 3, 4}, []float64{1, -1, 1.1, -1}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := flat.InverseInterval95(5, 0.1); ok {
		t.Error("a flat line gave a bounded interval")
	}
}

func TestLineErrors(t *testing.T) {
	if _, err := Straight([]float64{1, 2}, []float64{1, 2}, nil); !errors.Is(err, ErrTooFew) {
		t.Errorf("two points: %v", err)
	}
	if _, err := Straight([]float64{2, 2, 2}, []float64{1, 2, 3}, nil); !errors.Is(err, ErrNoSpan) {
		t.Errorf("one x: %v", err)
	}
	if _, err := Straight([]float64{1, 2, 3}, []float64{1, 2, 3}, []float64{1, 0, 1}); !errors.Is(err, ErrBadWeights) {
		t.Errorf("zero weight: %v", err)
	}
	if _, err := York([]float64{1, 2, 3}, []float64{1, 2, 3}, []float64{1, -1, 1}, []float64{1, 1, 1}, nil); !errors.Is(err, ErrBadWeights) {
		t.Errorf("negative uncertainty: %v", err)
	}
	if _, err := Origin([]float64{0, 0}, []float64{1, 2}, nil); !errors.Is(err, ErrNoSpan) {
		t.Errorf("all at the origin: %v", err)
	}
}
