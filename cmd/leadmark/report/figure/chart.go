package figure

import (
	"fmt"
	"math"

	"leadmark/calib/rig"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
)

// Lags draws the lags of one set-up over the calibrations, with the control limits; nil where there
// is nothing to draw.
func Lags(c rig.Chart) *Figure {
	if len(c.Points) == 0 {
		return nil
	}
	d := &Figure{Title: "The lag, calibration by calibration"}
	d.Caption = "Each mark is one calibration with its 95 % interval, in the order they were accepted."
	if k := c.Control; k != nil {
		d.Caption += fmt.Sprintf(" The band lies between the control limits, three standard deviations of %s "+
			"from the centre %s (chart of single values, ISO 7870-2; the standard deviation from the moving "+
			"range, or from the lags' own uncertainties where that is more). A cross in a ring marks a "+
			"calibration that breaks a rule.",
			phrase.MS.At(k.Sigma, k.Sigma), phrase.MS.At(k.Centre, k.Sigma))
	}
	d.SVG = atAll(d.Title+". "+words.Sentence(c.Note)+". "+chartSummary(c),
		func(l layout) *svg.Canvas { return drawLags(l, c) })
	return d
}

func chartSummary(c rig.Chart) string {
	var s string
	for _, p := range c.Points {
		s += fmt.Sprintf("%d: %s. ", p.Number, phrase.Lag(p.Lag))
	}
	return s
}

func drawLags(l layout, c rig.Chart) *svg.Canvas {
	p := newPlot(l, plotHeight(l)-60, svg.Axis{Lo: 0.5, Hi: float64(len(c.Points)) + 0.5}, chartAxis(c))
	if k := c.Control; k != nil {
		top, bottom := p.y.At(k.Upper/phrase.MS.SI), p.y.At(k.Lower/phrase.MS.SI)
		p.Rect("next", p.x.P0, top, p.x.P1-p.x.P0, bottom-top)
	}
	p.yAxis("lag in ms")
	if k := c.Control; k != nil {
		p.Line("mean", p.x.P0, p.y.At(k.Centre/phrase.MS.SI), p.x.P1, p.y.At(k.Centre/phrase.MS.SI))
	}
	p.countCalibrations(c)
	for i, q := range c.Points {
		x, y := p.x.At(float64(i+1)), p.y.At(q.Lag.Value/phrase.MS.SI)
		p.whisker(x, p.y.At(q.Lag.Interval95.Low/phrase.MS.SI), p.y.At(q.Lag.Interval95.High/phrase.MS.SI))
		if !q.Out.None() {
			p.OutlierMark(x, y, 6)
			continue
		}
		p.Mark(0, x, y, 5.5)
		if q.InForce && !l.narrow() {
			p.Text("label", min(x, p.x.P1-40), p.y.At(q.Lag.Interval95.High/phrase.MS.SI)-8, "middle", "in force")
		}
	}
	return p.Canvas
}

// whisker is an upright interval with short ends.
func (p *plot) whisker(x, y0, y1 float64) {
	p.Line("mean", x, y0, x, y1)
	p.Line("mean", x-4, y0, x+4, y0)
	p.Line("mean", x-4, y1, x+4, y1)
}

// countCalibrations is the axis of the calibrations, by their numbers.
func (p *plot) countCalibrations(c rig.Chart) {
	p.Line("axis", p.x.P0, p.y.P0, p.x.P1, p.y.P0)
	step := max(1, int(svg.NiceStep(float64(len(c.Points))/10)))
	for i, q := range c.Points {
		x := p.x.At(float64(i + 1))
		p.Line("axis", x, p.y.P0, x, p.y.P0+6)
		if i%step == 0 {
			p.Text("tick", x, p.y.P0+9+p.Font, "middle", fmt.Sprint(q.Number))
		}
	}
	p.Text("title", p.x.P1, p.y.P0+24+1.55*p.Font, "end", "calibration number")
}

// Ranges draws the moving range; nil without limits.
func Ranges(c rig.Chart) *Figure {
	k := c.Control
	if k == nil {
		return nil
	}
	d := &Figure{Title: "The moving range"}
	d.Caption = fmt.Sprintf("How far each calibration's lag lies from the one before. The line is the mean, "+
		"%s; the upper limit is %s.", phrase.MS.At(k.RangeCentre, k.Sigma), phrase.MS.At(k.RangeUpper, k.Sigma))
	d.SVG = atAll(d.Title+". "+d.Caption, func(l layout) *svg.Canvas { return drawRanges(l, c) })
	return d
}

func drawRanges(l layout, c rig.Chart) *svg.Canvas {
	k, top := c.Control, c.Control.RangeUpper
	for _, q := range k.Points {
		top = max(top, q.Range)
	}
	p := newPlot(l, plotHeight(l)-130, svg.Axis{Lo: 0.5, Hi: float64(len(c.Points)) + 0.5},
		svg.Axis{Lo: 0, Hi: 1.08 * top / phrase.MS.SI})
	limit := p.y.At(k.RangeUpper / phrase.MS.SI)
	p.Rect("next", p.x.P0, limit, p.x.P1-p.x.P0, p.y.At(0)-limit)
	p.yAxis("moving range in ms")
	p.Line("mean", p.x.P0, p.y.At(k.RangeCentre/phrase.MS.SI), p.x.P1, p.y.At(k.RangeCentre/phrase.MS.SI))
	p.countCalibrations(c)
	for i, q := range k.Points {
		if i == 0 {
			continue
		}
		x, y := p.x.At(float64(i+1)), p.y.At(q.Range/phrase.MS.SI)
		p.Line("stem", x, p.y.At(0), x, y)
		if q.Range > k.RangeUpper {
			p.OutlierMark(x, y, 6)
		} else {
			p.Mark(0, x, y, 5)
		}
	}
	return p.Canvas
}

// chartAxis holds every interval and the limits.
func chartAxis(c rig.Chart) svg.Axis {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range c.Points {
		lo, hi = min(lo, p.Lag.Interval95.Low), max(hi, p.Lag.Interval95.High)
	}
	if k := c.Control; k != nil {
		lo, hi = min(lo, k.Lower), max(hi, k.Upper)
	}
	lo, hi = svg.Padded(lo/phrase.MS.SI, hi/phrase.MS.SI, 0.04)
	return svg.Axis{Lo: lo, Hi: hi}
}
