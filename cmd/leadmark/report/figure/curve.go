package figure

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit/stat"
)

// Curve draws the advance against what was varied: speed, added delay or nothing.
func Curve(r calib.Result, s Shots) *Figure {
	if len(s.shots) == 0 {
		return nil
	}
	switch s.kind {
	case bySpeed:
		return against(r, s, againstText{
			title:  "Advance against speed",
			xTitle: "speed at the trip point in m/s",
			what:   "the speed of the front end at the trip point",
		}, func(x shot) float64 { return x.V })
	case byDelay:
		return against(r, s, againstText{
			title:  "Advance against added delay",
			xTitle: "added delay in ms",
			what:   "the delay added in the controller",
		}, func(x shot) float64 { return x.Conditions.Delay / phrase.MS.SI })
	}
	return conditionFigure(r, s)
}

type againstText struct{ title, xTitle, what string }

func against(r calib.Result, s Shots, t againstText, x func(shot) float64) *Figure {
	d := &Figure{Title: t.title}
	curves := fittedCurves(r, s)
	d.Caption = "Each mark is one frame: how far the front end was past " + pastWhat(r) +
		" when the flash fired, against " + t.what + "."
	if len(curves) > 0 {
		d.Caption += " The line is the fitted model, its band the 95 % interval of the mean (where the band " +
			"looks like a line, it is that narrow)."
	} else {
		d.Caption += " No line is drawn: the run did not determine the lag."
	}
	if s.crowded() {
		d.Caption += oneForMany
	}
	numbers := " The table of frames below has the numbers."
	if s.crowded() {
		numbers = " The file readings.csv has the numbers."
	}
	d.SVG = atAll(d.Title+". "+d.Caption+numbers, func(l layout) *svg.Canvas {
		p := newPlot(l, plotHeight(l), spanAxis(s, curves, x), advanceAxis(s, curves))
		p.yAxis("mm past " + pastWhat(r))
		p.xAxis(t.xTitle)
		for _, c := range curves {
			c.draw(p)
		}
		drawShots(p, s, x)
		return p.Canvas
	})
	return d
}

func drawShots(p *plot, s Shots, x func(shot) float64) {
	thin := newThinner(s)
	for _, sh := range s.shots {
		thin.mark(p.Canvas, sh, p.x.At(x(sh)), p.y.At(sh.Past/phrase.MM.SI), 5, 5)
	}
}

// curve is the fitted mean with its 95 % band, in the units of the figure.
type curve struct{ x, mean, lo, hi []float64 }

func (c curve) draw(p *plot) {
	n := len(c.x)
	xs, mean, lo, hi := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range c.x {
		xs[i], mean[i], lo[i], hi[i] = p.x.At(c.x[i]), p.y.At(c.mean[i]), p.y.At(c.lo[i]), p.y.At(c.hi[i])
	}
	p.Path("band", svg.Ribbon(xs, lo, hi))
	p.Path("curve", svg.Polyline(xs, mean))
}

// fittedCurves samples the model: one curve for each delay where the speed is varied, one for each
// speed where the delay is.
func fittedCurves(r calib.Result, s Shots) []curve {
	if r.Fit.Curve == nil || r.Fit.Lag == nil {
		return nil
	}
	const most = 6 // more curves would hide one another
	t := quantile95(r.Fit.Lag.DF)
	var out []curve
	if s.kind == bySpeed {
		hi := largest(s.shots, func(x shot) float64 { return x.V })
		for _, d := range distinct(s.shots, func(x shot) float64 { return x.Conditions.Delay }) {
			out = append(out, sample(r, s.offset, t, 0, hi*1.06, func(q float64) (v, delay float64) { return q, d }, 1))
		}
	} else {
		hi := largest(s.shots, func(x shot) float64 { return x.Conditions.Delay })
		for _, v := range distinct(s.shots, func(x shot) float64 { return x.V }) {
			if v > 0 {
				out = append(out, sample(r, s.offset, t, 0, hi*1.06,
					func(q float64) (float64, float64) { return v, q }, phrase.MS.SI))
			}
		}
	}
	return out[:min(len(out), most)]
}

func sample(r calib.Result, offset, t, lo, hi float64, at func(float64) (v, d float64), unit float64) curve {
	const n = 61
	var c curve
	for i := range n {
		q := lo + (hi-lo)*float64(i)/(n-1)
		m, u := r.Fit.Curve(at(q))
		m -= offset
		c.x = append(c.x, q/unit)
		c.mean = append(c.mean, m/phrase.MM.SI)
		c.lo = append(c.lo, (m-t*u)/phrase.MM.SI)
		c.hi = append(c.hi, (m+t*u)/phrase.MM.SI)
	}
	return c
}

// quantile95 is the factor of a two-sided 95 % interval: Student's t of df degrees of freedom
// (GUM, JCGM 100:2008, G.3), the normal 1.96 where df is not finite.
func quantile95(df float64) float64 {
	if !(df > 0) || math.IsInf(df, 0) {
		return distuv.UnitNormal.Quantile(0.975)
	}
	return stat.T95(df)
}

func largest(shots []shot, f func(shot) float64) float64 {
	m := math.Inf(-1)
	for _, x := range shots {
		m = max(m, f(x))
	}
	return m
}

func spanAxis(s Shots, curves []curve, x func(shot) float64) svg.Axis {
	hi := largest(s.shots, x)
	lo := min(0, -largest(s.shots, func(q shot) float64 { return -x(q) }))
	if len(curves) == 0 {
		_, hi = svg.Padded(lo, hi, 0.06)
		return svg.Axis{Lo: lo, Hi: hi}
	}
	return svg.Axis{Lo: lo, Hi: max(hi*1.06, curves[0].x[len(curves[0].x)-1])}
}

func advanceAxis(s Shots, curves []curve) svg.Axis {
	lo, hi := 0.0, 0.0
	for _, x := range s.shots {
		lo, hi = min(lo, x.Past/phrase.MM.SI), max(hi, x.Past/phrase.MM.SI)
	}
	for _, c := range curves {
		for i := range c.x {
			lo, hi = min(lo, c.mean[i]), max(hi, c.mean[i])
		}
	}
	low, top := svg.Padded(lo, hi, 0.04)
	if lo == 0 {
		low = 0
	}
	return svg.Axis{Lo: low, Hi: top}
}
