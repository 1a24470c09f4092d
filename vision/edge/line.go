package edge

import (
	"math"

	"leadmark/fit/stat"
)

// lineFit is at = a + b w, with the standard uncertainties of at in the middle of the points and of
// b, the first and last of the n points that count, and their middle.
type lineFit struct {
	a, b, u, turnU float64
	lo, hi, mid    float64
	n              int
}

// newLineFit fits by iterated weighted least squares with Tukey's biweight (Huber and Ronchetti,
// Robust Statistics, 2nd ed., section 7.6), from the repeated median line (Siegel 1982, Biometrika
// 69:242): print along a third of an edge leads the median of all slopes astray. What the points
// scatter more than their own uncertainties u say, by their median, is added to those as an equal
// variance. Points further than cut off the line never count.
func newLineFit(w, at, u []float64, cut float64) lineFit {
	var f lineFit
	f.a, f.b = repeatedMedian(w, at)
	z := make([]float64, len(w))
	for range lineRounds {
		extra := f.unexplained(w, at, u)
		var s, sw, sa, sww, swa float64
		f.n, f.lo, f.hi = 0, math.Inf(1), math.Inf(-1)
		for i := range w {
			r := at[i] - f.a - f.b*w[i]
			v := u[i]*u[i] + extra
			z[i] = r / (4.685 * math.Sqrt(v))
			if math.Abs(z[i]) >= 1 || math.Abs(r) > cut {
				continue
			}
			k := (1 - z[i]*z[i]) * (1 - z[i]*z[i]) / v
			s, sw, sa, sww, swa = s+k, sw+k*w[i], sa+k*at[i], sww+k*w[i]*w[i], swa+k*w[i]*at[i]
			f.n++
			f.lo, f.hi = min(f.lo, w[i]), max(f.hi, w[i])
		}
		f.mid = sw / s
		den := sww - sw*f.mid
		if f.n < fewPieces || !(den > 0) {
			f.n = 0
			return f
		}
		f.b = (swa - f.mid*sa) / den
		f.a = sa/s - f.b*f.mid
		f.u, f.turnU = math.Sqrt(1/s), math.Sqrt(1/den)
	}
	return f
}

// repeatedMedian is the line whose slope is the median over the points of the median slope to the
// others: up to half of them may be anywhere.
func repeatedMedian(x, y []float64) (a, b float64) {
	var slopes, to []float64
	for i := range x {
		to = to[:0]
		for j := range x {
			if j != i {
				to = append(to, (y[j]-y[i])/(x[j]-x[i]))
			}
		}
		slopes = append(slopes, stat.Median(to))
	}
	b = stat.Median(slopes)
	return stat.MedianOffset(x, y, b), b
}

// unexplained is the variance by which the points' median distance from the line exceeds what their
// uncertainties explain.
func (f lineFit) unexplained(w, at, u []float64) float64 {
	dev, own := make([]float64, len(w)), make([]float64, len(w))
	for i := range w {
		dev[i], own[i] = math.Abs(at[i]-f.a-f.b*w[i]), u[i]
	}
	sd, mid := stat.RobustSD(dev), stat.Median(own)
	return max(0, sd*sd-mid*mid)
}

// near are the pieces that lie on a line.
func (l lineFit) near(list []piece, cut float64) []piece {
	var out []piece
	for _, p := range list {
		if math.Abs(p.at-l.a-l.b*p.w) <= cut {
			out = append(out, p)
		}
	}
	return out
}
