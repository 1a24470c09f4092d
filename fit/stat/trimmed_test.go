package stat

import (
	"math"
	"testing"

	"leadmark/testdata"
)

// Raw least trimmed squares of the star cluster CYG OB1 by an exact search (R robustbase 0.95-0,
// ltsReg(nsamp = "exact"), h = 25): log.light = -13.62399 + 4.219182 log.Te. The four giants
// 11, 20, 30, 34 (Rousseeuw and Leroy 1987, p. 27) lie far off.
func TestLeastTrimmedStars(t *testing.T) {
	x, y := testdata.Columns(t, "robust/stars.csv", 0, 1)
	fit := LeastTrimmed(x, y, false)
	exact := Line{A: -13.62399, B: 4.219182}
	if got, want := trimmedSum(x, y, fit, 25), trimmedSum(x, y, exact, 25); !(got <= want*(1+1e-5)) {
		t.Errorf("trimmed sum %g, the exact search has %g (a %g, b %g)", got, want, fit.A, fit.B)
	}
	for _, i := range []int{11, 20, 30, 34} {
		if far := (y[i-1] - fit.A - fit.B*x[i-1]) / fit.Scale; !(math.Abs(far) >= 3) {
			t.Errorf("giant %d only %.1f scales off", i, far)
		}
	}
}

// Belgian telephone calls: the years 1964 to 1969 were counted in another unit (Rousseeuw and Leroy
// 1987); reweighted LTS of R drops 14 to 21 of 24 and has slope 0.10846535.
func TestLeastTrimmedTelephone(t *testing.T) {
	x, y := testdata.Columns(t, "robust/telephone.csv", 0, 1)
	fit := LeastTrimmed(x, y, false)
	if !(fit.B >= 0.09 && fit.B <= 0.13) {
		t.Errorf("slope %g", fit.B)
	}
	for i := 14; i < 20; i++ {
		if far := (y[i] - fit.A - fit.B*x[i]) / fit.Scale; !(far >= 5) {
			t.Errorf("year %g only %.1f scales off", x[i], far)
		}
	}
}
