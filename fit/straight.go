package fit

import (
	"fmt"
	"math"
)

// Line is a fitted straight line y = A + B x with all a certificate asks for.
type Line struct {
	A, B, UA, UB, Cov float64 // coefficients, their standard uncertainties and covariance
	S                 float64 // residual standard deviation; for known variances sqrt(ChiSq/DF)
	DF                float64 // residual degrees of freedom
	Known             bool    // variances were given, so U's are not scaled by S
	ChiSq             float64 // weighted residual sum of squares
	SSReg, R2, F      float64 // regression sum of squares, determination, variance ratio
	N                 int
}

// Straight fits y = a + b x by weighted least squares. A weight is 1/variance of that y and is
// taken as known; nil weights estimate one variance from the residuals (DF = n-2). Centred sums
// keep it good to about 1e-13 (Draper and Smith, Applied Regression Analysis, section 1.4; ISO/TS
// 28037:2010 clause 6 for known weights). Errors: ErrTooFew (n < 3, or 2 with weights), ErrNoSpan,
// ErrBadWeights. The slices are not modified.
func Straight(x, y, w []float64) (Line, error) {
	n := len(x)
	if err := checkLine(x, y, w, 2); err != nil {
		return Line{}, err
	}
	weight := weightsOrOnes(w, n)
	mx, my, sw := means(x, y, weight)
	var sxx, sxy, syy float64
	for i, q := range weight {
		dx, dy := x[i]-mx, y[i]-my
		sxx, sxy, syy = sxx+q*dx*dx, sxy+q*dx*dy, syy+q*dy*dy
	}
	if !(sxx > 1e-28*sw*mx*mx) {
		return Line{}, ErrNoSpan
	}
	l := Line{B: sxy / sxx, N: n, DF: float64(n - 2), Known: w != nil}
	l.A = my - l.B*mx
	for i, q := range weight {
		l.ChiSq += q * sq((y[i]-my)-l.B*(x[i]-mx))
	}
	l.finish(1/sw+mx*mx/sxx, 1/sxx, -mx/sxx, l.B*sxy, syy, 1)
	return l, nil
}

// finish fills what follows from the unscaled covariance.
func (l *Line) finish(va, vb, cov, reg, total, dfReg float64) {
	scale := 1.0
	if l.DF > 0 {
		l.S = math.Sqrt(l.ChiSq / l.DF)
	}
	if !l.Known {
		scale = l.ChiSq / l.DF
	}
	l.UA, l.UB, l.Cov = math.Sqrt(va*scale), math.Sqrt(vb*scale), cov*scale
	l.SSReg = reg
	l.R2 = 1 - l.ChiSq/total
	l.F = reg / dfReg / (l.ChiSq / l.DF)
}

// means returns weighted means to full precision (a second pass takes out the first's rounding).
func means(x, y, w []float64) (mx, my, sw float64) {
	for i, q := range w {
		sw += q
		mx, my = mx+q*x[i], my+q*y[i]
	}
	mx, my = mx/sw, my/sw
	var ex, ey float64
	for i, q := range w {
		ex, ey = ex+q*(x[i]-mx), ey+q*(y[i]-my)
	}
	return mx + ex/sw, my + ey/sw, sw
}

func weightsOrOnes(w []float64, n int) []float64 {
	if w != nil {
		return w
	}
	ones := make([]float64, n)
	for i := range ones {
		ones[i] = 1
	}
	return ones
}

func checkLine(x, y, w []float64, unknowns int) error {
	n, need := len(x), unknowns+1
	if w != nil {
		need = unknowns
	}
	switch {
	case len(y) != n || w != nil && len(w) != n:
		return fmt.Errorf("%w: x, y and weights differ in length", ErrBadWeights)
	case n < need:
		return fmt.Errorf("%w: %d points for %d unknowns", ErrTooFew, n, unknowns)
	}
	for i := range w {
		if !(w[i] > 0) || math.IsInf(w[i], 0) {
			return fmt.Errorf("%w: weight %d is %g", ErrBadWeights, i+1, w[i])
		}
	}
	return nil
}

// Origin fits y = b x, the offset known to be nil. R2 is about zero, not about the mean, as for
// every model without intercept (NIST StRD NoInt1). Weights and errors as Straight; DF = n-1.
func Origin(x, y, w []float64) (Line, error) {
	if err := checkLine(x, y, w, 1); err != nil {
		return Line{}, err
	}
	weight := weightsOrOnes(w, len(x))
	var sxx, sxy, syy float64
	for i, q := range weight {
		sxx, sxy, syy = sxx+q*x[i]*x[i], sxy+q*x[i]*y[i], syy+q*y[i]*y[i]
	}
	if sxx == 0 {
		return Line{}, ErrNoSpan
	}
	l := Line{B: sxy / sxx, N: len(x), DF: float64(len(x) - 1), Known: w != nil}
	for i, q := range weight {
		l.ChiSq += q * sq(y[i]-l.B*x[i])
	}
	l.finish(0, 1/sxx, 0, l.B*sxy, syy, 1)
	return l, nil
}

// At is the mean response at x with its standard uncertainty.
func (l Line) At(x float64) (y, u float64) {
	return l.A + l.B*x, math.Sqrt(math.Max(l.UA*l.UA+2*x*l.Cov+x*x*l.UB*l.UB, 0))
}

// Confidence95 holds the mean response at x with 95 % confidence.
func (l Line) Confidence95(x float64) Interval {
	y, u := l.At(x)
	half := l.factor() * u
	return Interval{y - half, y + half}
}

// Predict95 holds one further y at x with 95 % probability; u is that reading's own standard
// deviation (the residual one, l.S, when the variances were not known). Source: Natrella,
// Experimental Statistics, NBS Handbook 91, section 5-4.1.
func (l Line) Predict95(x, u float64) Interval {
	y, um := l.At(x)
	half := l.factor() * math.Hypot(um, u)
	return Interval{y - half, y + half}
}

// WorkingHotelling95 is the band that holds the whole line with 95 % confidence, at x (Handbook
// 91, section 5-4.1: factor sqrt(2 F(0.95; 2, n-2))).
func (l Line) WorkingHotelling95(x float64) Interval {
	y, u := l.At(x)
	half := math.Sqrt(workingHotelling(l.DF)) * u
	return Interval{y - half, y + half}
}

// workingHotelling is 2 F(0.95; 2, df): the F quantile with 2 numerator degrees of freedom has the
// closed form df/2 (0.05^(-2/df) - 1).
func workingHotelling(df float64) float64 { return df * math.Expm1(-2/df*math.Log(0.05)) }

func (l Line) factor() float64 {
	if l.Known {
		return students(math.Inf(1))
	}
	return students(l.DF)
}

// Inverse is the x at which the line reaches y0, a value of standard uncertainty u0 independent of
// the line: u^2(x0) = (u0^2 + u^2(a) + x0^2 u^2(b) + 2 x0 cov)/b^2. Source: ISO/TS 28037:2010
// clause 11. It is a first-order result; InverseInterval95 is exact where b is poorly known.
func (l Line) Inverse(y0, u0 float64) (x0, u float64) {
	x0 = (y0 - l.A) / l.B
	_, um := l.At(x0)
	return x0, math.Hypot(um, u0) / math.Abs(l.B)
}

// InverseInterval95 is Fieller's interval (1954) for the x at which the line reaches y0. ok is false
// when the slope does not differ from nil at 95 % confidence: then no bounded interval exists.
func (l Line) InverseInterval95(y0, u0 float64) (x Interval, ok bool) {
	k := sq(l.factor())
	// (y0 - a - b x)^2 = k (u0^2 + ua^2 + 2 x cov + x^2 ub^2)
	a := l.B*l.B - k*l.UB*l.UB
	b := -2*l.B*(y0-l.A) - 2*k*l.Cov
	c := sq(y0-l.A) - k*(u0*u0+l.UA*l.UA)
	disc := b*b - 4*a*c
	if a <= 0 || disc < 0 {
		return Interval{}, false
	}
	root := math.Sqrt(disc)
	return Interval{(-b - root) / (2 * a), (-b + root) / (2 * a)}, true
}
