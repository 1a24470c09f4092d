package marks

import (
	"math"

	"leadmark/fit"
)

// gaussWidth is the width of a Gaussian blur's edge from 10 % to 90 %, in standard deviations.
const gaussWidth = 2.563

// steepest returns where a row rises (sign 1) or falls (-1) most steeply within reach of x, by
// the centroid of the slope about its peak.
func steepest(v []float64, x, reach, sign float64) (float64, bool) {
	i0, i1 := max(2, int(x-reach)), min(len(v)-3, int(math.Ceil(x+reach)))
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
		if i < 2 || i > len(v)-3 {
			return 0, false
		}
		if d := sign * slope(v, i); d > 0.2*best {
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
// within three median deviations (at least floor). It returns the scatter and number kept.
func robustLine(w, t []float64, floor float64) (a, b, sd float64, n int) {
	a, b = theilSen(w, t, 0)
	for pass := 0; pass < 2; pass++ {
		dev := make([]float64, len(t))
		for i := range t {
			dev[i] = math.Abs(t[i] - a - b*w[i])
		}
		cut := max(floor, 3*1.4826*fit.Median(append([]float64(nil), dev...)))
		var sw, st, sww, swt, ss float64
		n = 0
		for i := range t {
			if dev[i] <= cut {
				n++
				sw, st, sww, swt, ss = sw+w[i], st+t[i], sww+w[i]*w[i], swt+w[i]*t[i], ss+dev[i]*dev[i]
			}
		}
		den := float64(n)*sww - sw*sw
		if n < 4 || den <= 0 {
			return a, b, math.Inf(1), n
		}
		b = (float64(n)*swt - sw*st) / den
		a = (st - b*sw) / float64(n)
		sd = math.Sqrt(ss / float64(n))
	}
	return a, b, sd, n
}

// width is the 10 % to 90 % width of an edge, from the second moment of the mean slope of the
// rows along the fitted line (2.563 standard deviations for a Gaussian blur); samples.
func (c *crossing) width(a, b, sign float64) float64 {
	r := int(math.Ceil(0.5 * c.pitch))
	mean := make([]float64, 2*r+1)
	var row []float64
	for _, j := range c.rows {
		i := int(math.Round(a + b*(float64(j)-c.pivot)))
		if i-r < 1 || i+r >= c.s.nt-1 {
			continue
		}
		row = c.light(row, j, i-r-1, i+r+1)
		for d := range mean {
			if g := sign * (row[d+2] - row[d]); g == g {
				mean[d] += g
			}
		}
	}
	top := 0.0
	for _, g := range mean {
		top = max(top, g)
	}
	var s, m, mm float64
	for d, g := range mean {
		if g > 0.1*top {
			x := float64(d - r)
			s, m, mm = s+g, m+g*x, mm+g*x*x
		}
	}
	if s == 0 {
		return 0
	}
	// The two-sample difference widens the slope by a variance of 1/3 + 1.
	v := mm/s - m*m/s/s - 1
	return 2.563 * math.Sqrt(max(0.05, v))
}
