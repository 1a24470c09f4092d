package drift

import (
	"math"

	"leadmark/fit/note"
)

// ChartConstants are the control chart constants for samples of n normal values (ISO 7870-2;
// the columns of its table of factors).
type ChartConstants struct {
	N                                  int
	C4, D2, D3Range                    float64 // E(s)/sigma, E(range)/sigma, sd(range)/sigma ("d3")
	A2, A3, B3, B4, B5, B6, D3, D4, E2 float64
}

// ChartPoint is one calibration on the chart.
type ChartPoint struct {
	Value, Range float64   // lag, and its distance from the one before (0 for the first)
	Out          note.Note // what rule it breaks; the zero Note when in control
}

// Chart is a control chart of single values with moving ranges of two (ISO 7870-2), limits three
// standard deviations off.
type Chart struct {
	Centre, Sigma, Lower, Upper float64
	RangeCentre, RangeUpper     float64
	Points                      []ChartPoint
	InControl                   bool
	Note                        note.Note // what the chart says
}

// Constants computes the chart constants for samples of n, 2 <= n <= 100; NaN outside. d2 and d3 are the
// moments of the range of n normal values, integrated; c4 = sqrt(2/(n-1)) Gamma(n/2)/Gamma((n-1)/2).
func Constants(n int) ChartConstants {
	k := float64(n)
	c := ChartConstants{N: n}
	if n < 2 || n > 100 {
		nan := math.NaN()
		return ChartConstants{n, nan, nan, nan, nan, nan, nan, nan, nan, nan, nan, nan, nan}
	}
	top, _ := math.Lgamma(k / 2)
	bottom, _ := math.Lgamma((k - 1) / 2)
	c.C4 = math.Sqrt(2/(k-1)) * math.Exp(top-bottom)
	c.D2, c.D3Range = rangeMoments(k)
	c.A2, c.A3 = 3/(c.D2*math.Sqrt(k)), 3/(c.C4*math.Sqrt(k))
	off := 3 * math.Sqrt(1-c.C4*c.C4)
	c.B3, c.B4 = math.Max(0, 1-off/c.C4), 1+off/c.C4
	c.B5, c.B6 = math.Max(0, c.C4-off), c.C4+off
	c.D3, c.D4 = math.Max(0, 1-3*c.D3Range/c.D2), 1+3*c.D3Range/c.D2
	c.E2 = 3 / c.D2
	return c
}

// rangeMoments is mean and standard deviation of the range W of n standard normal values (Tippett,
// Biometrika 17 (1925) 364): P(W <= w) = n int phi(x) (Phi(x+w) - Phi(x))^(n-1) dx, E(W) = int P(W
// > w) dw, E(W^2) = int 2 w P(W > w) dw. Trapezoid rule inside, Simpson's outside: good to 1e-9.
func rangeMoments(n float64) (mean, sd float64) {
	const inner, reach, outer, end = 1.0 / 8, 9.0, 1.0 / 32, 20.0
	square := 0.0
	for k := 0; k <= end/outer; k++ {
		w, above := float64(k)*outer, 1.0
		for x := -reach; x <= reach; x += inner {
			between := 0.5 * (math.Erfc(-(x+w)/math.Sqrt2) - math.Erfc(-x/math.Sqrt2))
			above -= n * inner * math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) * math.Pow(between, n-1)
		}
		weight := outer / 3 * float64(2+2*(k%2))
		if k == 0 || k == end/outer {
			weight = outer / 3
		}
		mean, square = mean+weight*above, square+weight*2*w*above
	}
	return mean, math.Sqrt(square - mean*mean)
}

const (
	chartFew  = 3 // values from which a chart can be drawn at all
	chartRun  = 9 // in a row on one side of the centre: a shift
	chartMany = 12
)

// ControlChart charts single values in the order of time. Sigma is the mean moving range over
// d2(2), limits lie 3 sigma off. A point is out beyond a limit, or as the last of nine in a row on
// one side of the centre (two of ISO 7870-2's patterns; the others add false alarms and are left
// out). own are the values' standard uncertainties: where the moving range is smaller than they
// explain, they set sigma (nil: not used). ok is false with fewer than 3 values.
func ControlChart(values, own []float64) (c Chart, ok bool) {
	n := len(values)
	if n < chartFew {
		return Chart{}, false
	}
	for i, v := range values {
		c.Centre += v / float64(n)
		c.Points = append(c.Points, ChartPoint{Value: v})
		if i > 0 {
			c.Points[i].Range = math.Abs(v - values[i-1])
			c.RangeCentre += c.Points[i].Range / float64(n-1)
		}
	}
	two := Constants(2)
	c.Sigma = c.RangeCentre / two.D2
	if own != nil {
		sum := 0.0
		for _, u := range own {
			sum += u * u / float64(n)
		}
		c.Sigma = math.Max(c.Sigma, math.Sqrt(sum))
	}
	c.Lower, c.Upper = c.Centre-3*c.Sigma, c.Centre+3*c.Sigma
	c.RangeUpper = two.D4 * two.D2 * c.Sigma
	c.judge()
	return c, true
}

// judge marks the points that break a rule and counts them.
func (c *Chart) judge() {
	side, run, out := 0.0, 0, 0
	for i := range c.Points {
		p := &c.Points[i]
		if s := math.Copysign(1, p.Value-c.Centre); s != side {
			side, run = s, 0
		}
		run++
		switch {
		case p.Value > c.Upper || p.Value < c.Lower:
			p.Out = note.Of("chart-out", "limits")
		case p.Range > c.RangeUpper:
			p.Out = note.Of("chart-out", "jump")
		case run >= chartRun:
			p.Out = note.Of("chart-out", "side", run)
		}
		if !p.Out.None() {
			out++
		}
	}
	c.InControl = out == 0
	c.Note = note.Of("chart", "sure", len(c.Points), out)
	if len(c.Points) < chartMany {
		c.Note = note.Of("chart", "few", len(c.Points), out)
	}
}
