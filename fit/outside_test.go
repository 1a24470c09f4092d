package fit

import (
	"errors"
	"math"
	"testing"

	"leadmark/testdata"
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

// NIST StRD Norris, a line: 1e-12 leaves room for float64 rounding only.
func TestStraightNorris(t *testing.T) {
	x, y := nistLine(t, "Norris")
	l, err := Straight(x, y, nil)
	if err != nil {
		t.Fatal(err)
	}
	certifies(t, "Norris", "B0", 1e-12, l.A, l.UA)
	certifies(t, "Norris", "B1", 1e-12, l.B, l.UB)
	certifies(t, "Norris", "Standard Deviation", 1e-12, l.S)
	certifies(t, "Norris", "R-Squared", 1e-13, l.R2)
	certifies(t, "Norris", "Regression", 1e-12, 1, l.SSReg, l.SSReg, l.F)
	certifies(t, "Norris", "Residual", 1e-12, l.DF, l.ChiSq, sq(l.S))
	// Unscaled (X'X)^-1 as printed in GSL's public fit/test.c for gsl_fit_wlinear with w = 1.
	ones := make([]float64, len(x))
	for i := range ones {
		ones[i] = 1
	}
	w, err := Straight(x, y, ones)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cov00", w.UA*w.UA, 6.92384428759429e-02, 1e-12)
	near(t, "cov01", w.Cov, -9.89095016390515e-05, 1e-12)
	near(t, "cov11", w.UB*w.UB, 2.35960747164148e-07, 1e-12)
}

// certifies compares figures with the numbers that a StRD file certifies behind a label.
func certifies(t *testing.T, name, label string, rel float64, figures ...float64) {
	t.Helper()
	for i, want := range certified(t, name, label, len(figures)) {
		near(t, name+" "+label, figures[i], want, rel)
	}
}

// NIST StRD NoInt1 and NoInt2: lines through the origin; R2 is about zero. Sums are printed to 15 digits only.
func TestOriginNoInt(t *testing.T) {
	for _, name := range []string{"NoInt1", "NoInt2"} {
		x, y := nistLine(t, name)
		l, err := Origin(x, y, nil)
		if err != nil {
			t.Fatal(err)
		}
		certifies(t, name, "B1", 1e-13, l.B, l.UB)
		certifies(t, name, "Standard Deviation", 1e-13, l.S)
		certifies(t, name, "R-Squared", 1e-13, l.R2)
		certifies(t, name, "Regression", 2e-13, 1, l.SSReg, l.SSReg, l.F)
		certifies(t, name, "Residual", 2e-13, l.DF, l.ChiSq, sq(l.S))
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

// lineFigures are the six figures that ISO/TS 28037 gives of a line.
func lineFigures(l Line) quantities {
	return quantities{"a": l.A, "b": l.B, "u(a)": l.UA, "u(b)": l.UB, "cov": l.Cov, "chi2": l.ChiSq}
}

// ISO/TS 28037:2010, worked examples: known uncertainties of y, and the x of a further reading; uncertain in both.
func TestISO28037(t *testing.T) {
	for _, c := range []struct {
		points, example, inverse string
		y0, u0                   float64
	}{
		{"WLS1", "ISO/TS 28037 WLS1", "ISO/TS 28037 WLS1 inverse", 10.5, 0.5},
		{"WLS2", "ISO/TS 28037 WLS2", "ISO/TS 28037 WLS2 inverse", 10.5, 1.0},
	} {
		x, _, y, uy := isoCase(t, c.points)
		w := make([]float64, len(uy))
		for i, u := range uy {
			w[i] = 1 / (u * u)
		}
		l, err := Straight(x, y, w)
		if err != nil {
			t.Fatal(err)
		}
		matches(t, c.example, lineFigures(l))
		x0, ux0 := l.Inverse(c.y0, c.u0)
		matches(t, c.inverse, quantities{"x0": x0, "u(x0)": ux0})
	}
	x, ux, y, uy := isoCase(t, "GDR")
	l, err := York(x, y, ux, uy, nil)
	if err != nil {
		t.Fatal(err)
	}
	matches(t, "ISO/TS 28037 GDR", lineFigures(l))
}

// Pearson's data with York's weights: York's standard errors are those of 2004, at the adjusted points and not scaled.
func TestPearsonYork(t *testing.T) {
	x, wx := columns(t, "line/pearson_york.csv", 0, 1)
	y, wy := columns(t, "line/pearson_york.csv", 2, 3)
	ux, uy := make([]float64, len(x)), make([]float64, len(x))
	for i := range wx {
		ux[i], uy[i] = 1/math.Sqrt(wx[i]), 1/math.Sqrt(wy[i])
	}
	l, err := York(x, y, ux, uy, nil)
	if err != nil {
		t.Fatal(err)
	}
	matches(t, "Pearson with York's weights", quantities{"a": l.A, "b": l.B, "S": l.ChiSq, "S/(n-2)": l.ChiSq / l.DF,
		"u(a)": l.UA, "u(b)": l.UB, "cov": l.Cov, "scaled u(a)": l.UA * l.S, "scaled u(b)": l.UB * l.S})
	only, err := Straight(x, y, wy)
	if err != nil {
		t.Fatal(err)
	}
	matches(t, "Pearson weighted in y", quantities{"a": only.A, "b": only.B})
}

// gum reads JCGM 100:2008, table H.6: temperatures above the example's 20 degrees, and corrections.
func gum(t *testing.T) (x, y []float64) {
	t.Helper()
	x, y = columns(t, "line/gum_h3.csv", 1, 2)
	for i := range x {
		x[i] -= 20
	}
	return x, y
}

// JCGM 100:2008 H.3, the calibration of a thermometer.
func TestGUMH3(t *testing.T) {
	x, y := gum(t)
	l, err := Straight(x, y, nil)
	if err != nil {
		t.Fatal(err)
	}
	b, u := l.At(10)
	matches(t, "GUM H.3", quantities{"y1": l.A, "u(y1)": l.UA, "y2": l.B, "u(y2)": l.UB, "r": l.Cov / l.UA / l.UB,
		"s": l.S, "RSS": l.ChiSq, "b(30)": b, "u(b(30))": u, "u of a reading at 30": math.Hypot(u, l.S)})
}

// Natrella, Experimental Statistics, NBS Handbook 91, section 5-4.1: Young's modulus against temperature.
func TestHandbook91(t *testing.T) {
	x, y := columns(t, "nist/handbook91.csv", 0, 1)
	l, err := Straight(x, y, nil)
	if err != nil {
		t.Fatal(err)
	}
	figures := quantities{"b0": l.A, "Var b0": sq(l.UA), "b1": l.B, "Var b1": sq(l.UB), "s": l.S,
		"2F(.95;2,14)": workingHotelling(14), "t(.975;14)": students(14)}
	for at, x := range map[string]float64{"(750)": 750, "(1200)": 1200} {
		mean, u := l.At(x)
		ci, pi := l.Confidence95(x), l.Predict95(x, l.S)
		figures["y"+at], figures["Var mean"+at], figures["Var reading"+at] = mean, sq(u), sq(u)+sq(l.S)
		figures["confidence"+at], figures["prediction"+at] = (ci.High-ci.Low)/2, (pi.High-pi.Low)/2
	}
	matches(t, "Handbook 91", figures)
}

// Fieller, J. R. Stat. Soc. B 16 (1954) 175: no table, the defining property is checked.
func TestInverseFieller(t *testing.T) {
	x, y := nistLine(t, "Norris")
	l, err := Straight(x, y, nil)
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
