package marks

import (
	"math"

	"leadmark/fit/stat"
)

// gaussWidth is the width of a Gaussian blur's edge from 10 % to 90 %, in standard deviations.
const gaussWidth = 2.563

// steepest returns where a row rises (sign 1) or falls (-1) most steeply within reach of x, by
// the centroid of the slope about its peak.
func steepest(v []float64, x, reach, sign float64) (float64, bool) {
	i0, i1 := max(2, int(x-reach)), min(len(v)-1-2, int(math.Ceil(x+reach)))
	best, at := 0.0, -1
	for i := i0; i <= i1; i++ {
		if d := sign * slope(v, i); d > best {
			best, at = d, i
		}
	}
	if at < 0 {
		return 0, false
	}
	var sum, mom float64
	for i := at - 2; i <= at+2; i++ {
		if i < 2 || i > len(v)-1-2 {
			return 0, false
		}
		if d := sign * slope(v, i); d > steepestShare*best {
			sum += d
			mom += d * float64(i)
		}
	}
	return mom / sum, true
}

// slope is the derivative of a row at a sample, smoothed over five.
func slope(v []float64, i int) float64 {
	return (2*(v[i+2]-v[i-2]) + (v[i+1] - v[i-1])) / 10
}

// robustLine fits t = a + b w: median of pairwise slopes, then least squares of what lies
// within three median deviations (at least floor). It returns the
// scatter, infinite where too few lie so or they tell no slope, and the number kept.
func robustLine(w, t []float64, floor float64) (a, b, sd float64, n int) {
	a, b = theilSen(w, t, 0)
	for pass := 0; pass < 2; pass++ {
		dev := make([]float64, len(t))
		for i := range t {
			dev[i] = math.Abs(t[i] - a - b*w[i])
		}
		cut := max(floor, strayPoints*stat.FromMAD*stat.Median(append([]float64(nil), dev...)))
		var sw, st, sww, swt, ss float64
		n = 0
		for i := range t {
			if dev[i] <= cut {
				n++
				sw, st, sww, swt, ss = sw+w[i], st+t[i], sww+w[i]*w[i], swt+w[i]*t[i], ss+dev[i]*dev[i]
			}
		}
		den := float64(n)*sww - sw*sw
		if n < fewestOnLine || den <= 0 {
			return a, b, math.Inf(1), n
		}
		b = (float64(n)*swt - sw*st) / den
		a = (st - b*sw) / float64(n)
		sd = math.Sqrt(ss / float64(n))
	}
	return a, b, sd, n
}

// theilSen fits y = a + c t by the median of pairwise slopes (Sen 1968); fewer than
// fewestOnLine give the constant median, or otherwise where there is none.
func theilSen(t, y []float64, otherwise float64) (a, c float64) {
	if len(t) == 0 {
		return otherwise, 0
	}
	if len(t) >= fewestOnLine {
		var slopes []float64
		for i := range t {
			for j := i + 1; j < len(t); j++ {
				slopes = append(slopes, (y[j]-y[i])/(t[j]-t[i]))
			}
		}
		c = stat.Median(slopes)
	}
	return stat.MedianOffset(t, y, c), c
}
