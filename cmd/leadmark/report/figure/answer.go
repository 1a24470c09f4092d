package figure

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit"
)

// Answer draws the lag to scale, from the broken beam to the flash, and below it, enlarged,
// what each frame says of the lag and where the next shot will fall. Nothing without a lag.
func Answer(r calib.Result, s Shots) *Figure {
	if r.Fit.Lag == nil || !(r.Fit.Lag.Value > 0) {
		return nil
	}
	lags := impliedLags(r, s)
	label := "The lag drawn to scale: the beam is broken at 0 ms, the flash fires at " +
		phrase.MS.PlusMinus(r.Fit.Lag.Value, phrase.Half(*r.Fit.Lag)) + "."
	if r.Fit.NextShot != nil {
		label += " The next shot's lag will fall from " + phrase.MS.Span(*r.Fit.NextShot) + " with 95 % probability."
	}
	bars := lagBars(s, lags, zoomAxis(r, lags, 0))
	d := &Figure{Title: "From the beam to the flash, to scale", Caption: answerCaption(r, bars)}
	d.SVG = atAll(label, func(l layout) *svg.Canvas { return drawAnswer(l, r, s, lags, bars) })
	return d
}

func answerCaption(r calib.Result, bars *histogram) string {
	c := "Above, the whole lag. Below, its end enlarged: each mark is the lag that one frame alone would " +
		"give; a cross in a ring is an odd shot, and one beyond the figure stands at its edge with an arrow."
	if bars != nil {
		c = "Above, the whole lag. Below, its end enlarged: the bars count the lags that each frame alone " +
			"would give, " + bars.says("ms") + "; a cross in a ring is an odd shot, and what lies beyond the " +
			"figure stands at its edge with an arrow." + oneForMany
	}
	if r.Fit.NextShot != nil {
		c += " The pale band holds the next shot with 95 % probability, the dark one the lag itself."
	}
	return c
}

// impliedLags is what each frame alone says of the lag: the fitted lag plus the residual divided
// by the speed of the front end at the flash, ds/dtau = v + a (L + d).
func impliedLags(r calib.Result, s Shots) []float64 {
	out := make([]float64, len(s.shots))
	for i, x := range s.shots {
		v := x.V
		if x.Conditions.Drop > 0 {
			g := x.Conditions.Gravity
			if g == 0 {
				g = phrase.StandardGravity
			}
			v += g * (r.Fit.Lag.Value + x.Conditions.Delay)
		}
		out[i] = math.NaN()
		if x.VKnown && v > 0 {
			out[i] = r.Fit.Lag.Value + x.Fit.Residual/v
		}
	}
	return out
}

func drawAnswer(l layout, r calib.Result, s Shots, lags []float64, bars *histogram) *svg.Canvas {
	lag := r.Fit.Lag
	c := newCanvas(l, 250)
	whole := svg.Axis{Lo: 0, Hi: lag.Value / phrase.MS.SI * 1.12, P0: 14, P1: l.width - 14}
	zoom := zoomAxis(r, lags, l.width)
	const bar, top, floor = 46.0, 88.0, 196.0
	c.Path("lens", fmt.Sprintf("M%s %sL%s %sL%s %sL%s %sZ", svg.PX(whole.At(zoom.Lo)), svg.PX(bar),
		svg.PX(whole.At(zoom.Hi)), svg.PX(bar), svg.PX(zoom.P1), svg.PX(top), svg.PX(zoom.P0), svg.PX(top)))
	c.Rect("zoom", zoom.P0, top, zoom.P1-zoom.P0, floor-top)
	c.Line("time", whole.P0, bar, whole.P1, bar)
	c.Line("beam", whole.At(0), bar-16, whole.At(0), bar+16)
	c.Path("flash", svg.Polygon(whole.At(lag.Value/phrase.MS.SI), bar, 11, 4, -math.Pi/2))
	c.Text("label", whole.At(0)-6, bar-24, "start", "beam broken")
	c.Text("label", whole.At(lag.Value/phrase.MS.SI)+8, bar-24, "end", "flash fires")
	drawZoom(c, r, zoom, bars, top, floor)
	swarm(c, s, lags, zoom, (top+floor)/2)
	rulerEdge(c, zoom, floor, int(math.Max(5, c.W/110)))
	c.Text("title", zoom.P1, floor+26+1.5*c.Font, "end", "lag in ms")
	return c
}

// zoomAxis spans the next shot's interval, or the lag's own, with the frames that lie near it.
func zoomAxis(r calib.Result, lags []float64, width float64) svg.Axis {
	iv := r.Fit.Lag.Interval95
	if n := r.Fit.NextShot; n != nil {
		iv = *n
	}
	w := iv.High - iv.Low
	lo, hi := iv.Low, iv.High
	for _, v := range lags {
		if v > iv.Low-w && v < iv.High+w {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	lo, hi = svg.Padded(lo/phrase.MS.SI, hi/phrase.MS.SI, 0.12)
	return svg.Axis{Lo: lo, Hi: hi, P0: 14, P1: width - 14}
}

func drawZoom(c *svg.Canvas, r calib.Result, zoom svg.Axis, bars *histogram, top, floor float64) {
	band := func(class string, iv fit.Interval, inset float64) {
		x0, x1 := zoom.At(iv.Low/phrase.MS.SI), zoom.At(iv.High/phrase.MS.SI)
		c.Rect(class, x0, top+inset, x1-x0, floor-top-inset)
	}
	if r.Fit.NextShot != nil {
		band("next", *r.Fit.NextShot, 0)
	}
	band("sure", r.Fit.Lag.Interval95, 0)
	if bars != nil {
		bars.draw(c, zoom, floor, 0.86*(floor-top))
	}
	c.Line("mean", zoom.At(r.Fit.Lag.Value/phrase.MS.SI), top, zoom.At(r.Fit.Lag.Value/phrase.MS.SI), floor)
}

// lagBars counts the lags that need no mark of their own; nil where each shot has one.
func lagBars(s Shots, lags []float64, a svg.Axis) *histogram {
	if !s.crowded() {
		return nil
	}
	var values []float64
	var marks []int
	for i, v := range lags {
		if v /= phrase.MS.SI; v >= a.Lo && v <= a.Hi && !s.shots[i].Fit.Outlier {
			values, marks = append(values, v), append(marks, s.shots[i].Mark)
		}
	}
	h := binned(values, marks, a, mostBins)
	return &h
}

// inSwarm lists by their lags the shots that get a mark: all, or of many those that no bar counts.
func inSwarm(s Shots, lags []float64, a svg.Axis) (order []int) {
	for i, v := range lags {
		at := v / phrase.MS.SI
		counted := s.crowded() && !s.shots[i].Fit.Outlier && at >= a.Lo && at <= a.Hi
		if !math.IsNaN(v) && !counted {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(lags[i], lags[j]) })
	return order
}

// swarm draws lags as marks side by side, moved up or down where they would overlap. Where there is
// no room, one of many shots stands for those that it would cover.
func swarm(c *svg.Canvas, s Shots, lags []float64, a svg.Axis, mid float64) {
	order := inSwarm(s, lags, a)
	r := 5.0
	if len(order) > 60 {
		r = 3
	}
	side := newLanes()
	for _, i := range order {
		there := a.At(lags[i] / phrase.MS.SI)
		x := min(max(there, a.P0+4*r), a.P1-4*r)
		y, free := side.place(x, r)
		if y += mid; !free && s.crowded() {
			continue
		}
		if there < a.P0 || there > a.P1 {
			c.BeyondMark(x, y, r, math.Copysign(1, there-x))
		}
		if s.shots[i].Fit.Outlier {
			c.OutlierMark(x, y, r)
			continue
		}
		c.Mark(s.shots[i].Mark, x, y, r)
	}
}
