package fit

import (
	"fmt"
	"math"
)

// York fits y = a + b x with errors in both variables: ux and uy are standard uncertainties, r
// their correlations (nil: none). Variances are taken as known. Standard uncertainties are York's
// of 2004, at the adjusted points and not scaled by the scatter: the convention of
// York, Evensen, Martinez and De Basabe Delgado, Am. J. Phys. 72 (2004) 367, eq. 13. Multiply by
// Line.S for the scaled ones. Errors: ErrTooFew, ErrNoSpan, ErrBadWeights, or no convergence.
func York(x, y, ux, uy, r []float64) (Line, error) {
	n := len(x)
	wx, err := inverseSquares(ux, n)
	if err != nil {
		return Line{}, err
	}
	wy, err := inverseSquares(uy, n)
	if err != nil {
		return Line{}, err
	}
	if r == nil {
		r = make([]float64, n)
	}
	if len(r) != n {
		return Line{}, fmt.Errorf("%w: correlations differ in number from x", ErrBadWeights)
	}
	first, err := Straight(x, y, wy)
	if err != nil {
		return Line{}, err
	}
	f := yorkFit{x, y, wx, wy, r, make([]float64, n), make([]float64, n)}
	b := first.B
	for i := 0; i < 500; i++ {
		next, _, _ := f.step(b)
		if math.Abs(next-b) <= 1e-15*math.Abs(next) {
			b = next
			break
		}
		b = next
		if i == 499 && math.Abs(next-b) > 1e-12*math.Abs(next) {
			return Line{}, fmt.Errorf("the line through points uncertain in both directions did not settle\nhint: check the uncertainties of the speeds and advances")
		}
	}
	b, mx, my := f.step(b)
	return f.line(b, mx, my), nil
}

func inverseSquares(u []float64, n int) ([]float64, error) {
	if len(u) != n {
		return nil, fmt.Errorf("%w: uncertainties differ in number from x", ErrBadWeights)
	}
	w := make([]float64, n)
	for i, v := range u {
		if !(v > 0) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("%w: uncertainty %d is %g", ErrBadWeights, i+1, v)
		}
		w[i] = 1 / (v * v)
	}
	return w, nil
}

type yorkFit struct {
	x, y, wx, wy, r []float64
	w, beta         []float64
}

// step is one turn of York's iteration: the slope from the weights the last slope gives.
func (f yorkFit) step(b float64) (next, mx, my float64) {
	sw := 0.0
	for i := range f.x {
		alpha := math.Sqrt(f.wx[i] * f.wy[i])
		f.w[i] = f.wx[i] * f.wy[i] / (f.wx[i] + b*b*f.wy[i] - 2*b*f.r[i]*alpha)
		sw += f.w[i]
		mx, my = mx+f.w[i]*f.x[i], my+f.w[i]*f.y[i]
	}
	mx, my = mx/sw, my/sw
	num, den := 0.0, 0.0
	for i := range f.x {
		u, v := f.x[i]-mx, f.y[i]-my
		alpha := math.Sqrt(f.wx[i] * f.wy[i])
		f.beta[i] = f.w[i] * (u/f.wy[i] + b*v/f.wx[i] - (b*u+v)*f.r[i]/alpha)
		num, den = num+f.w[i]*f.beta[i]*v, den+f.w[i]*f.beta[i]*u
	}
	return num / den, mx, my
}

// line fills the result from the settled slope.
func (f yorkFit) line(b, mx, my float64) Line {
	l := Line{A: my - b*mx, B: b, N: len(f.x), DF: float64(len(f.x) - 2), Known: true}
	sw, mean := 0.0, 0.0
	for i, w := range f.w {
		sw, mean = sw+w, mean+w*(mx+f.beta[i])
	}
	mean /= sw
	sxx, total := 0.0, 0.0
	for i, w := range f.w {
		sxx += w * sq(mx+f.beta[i]-mean)
		total += w * sq(f.y[i]-my)
		l.ChiSq += w * sq(f.y[i]-l.A-b*f.x[i])
	}
	l.finish(1/sw+mean*mean/sxx, 1/sxx, -mean/sxx, total-l.ChiSq, total, 1)
	return l
}
