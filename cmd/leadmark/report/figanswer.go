package report

import (
	"fmt"
	"math"
	"slices"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit"
)

// answerFigure draws the lag to scale, from the broken beam to the flash, and below it, enlarged,
// what each frame says of the lag and where the next shot will fall. Nothing without a lag.
func answerFigure(r calib.Result, s shotList) *drawn {
	if r.Fit.Lag == nil || !(r.Fit.Lag.Value > 0) {
		return nil
	}
	lags := impliedLags(r, s)
	label := "The lag drawn to scale: the beam is broken at 0 ms, the flash fires at " +
		phrase.MS.PlusMinus(r.Fit.Lag.Value, phrase.Half(*r.Fit.Lag)) + "."
	if r.Fit.NextShot != nil {
		label += " The next shot's lag will fall from " + phrase.MS.Span(*r.Fit.NextShot) + " with 95 % probability."
	}
	d := &drawn{Title: "From the beam to the flash, to scale", Caption: answerCaption(r)}
	d.SVG = atAll(label, func(l layout) *canvas { return drawAnswer(l, r, s, lags) })
	return d
}

func answerCaption(r calib.Result) string {
	c := "Above, the whole lag. Below, its end enlarged: each mark is the lag that one frame alone would " +
		"give; a cross in a ring is an odd shot, and one beyond the figure stands at its edge with an arrow."
	if r.Fit.NextShot != nil {
		c += " The pale band holds the next shot with 95 % probability, the dark one the lag itself."
	}
	return c
}

// impliedLags is what each frame alone says of the lag: the fitted lag plus the residual divided
// by the speed of the front end at the flash, ds/dtau = v + a (L + d).
func impliedLags(r calib.Result, s shotList) []float64 {
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

func drawAnswer(l layout, r calib.Result, s shotList, lags []float64) *canvas {
	lag := r.Fit.Lag
	c := newCanvas(l, 250)
	whole := axis{0, lag.Value / phrase.MS.SI * 1.12, 14, l.width - 14}
	zoom := zoomAxis(r, lags, l.width)
	const bar, top, floor = 46.0, 88.0, 196.0
	c.path("lens", fmt.Sprintf("M%s %sL%s %sL%s %sL%s %sZ", px(whole.at(zoom.lo)), px(bar),
		px(whole.at(zoom.hi)), px(bar), px(zoom.p1), px(top), px(zoom.p0), px(top)))
	c.rect("zoom", zoom.p0, top, zoom.p1-zoom.p0, floor-top)
	c.line("time", whole.p0, bar, whole.p1, bar)
	c.line("beam", whole.at(0), bar-16, whole.at(0), bar+16)
	c.path("flash", poly(whole.at(lag.Value/phrase.MS.SI), bar, 11, 4, -math.Pi/2))
	c.text("label", whole.at(0)-6, bar-24, "start", "beam broken")
	c.text("label", whole.at(lag.Value/phrase.MS.SI)+8, bar-24, "end", "flash fires")
	drawZoom(c, r, s, lags, zoom, top, floor)
	return c
}

// zoomAxis spans the next shot's interval, or the lag's own, with the frames that lie near it.
func zoomAxis(r calib.Result, lags []float64, width float64) axis {
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
	lo, hi = padded(lo/phrase.MS.SI, hi/phrase.MS.SI, 0.12)
	return axis{lo, hi, 14, width - 14}
}

func drawZoom(c *canvas, r calib.Result, s shotList, lags []float64, zoom axis, top, floor float64) {
	band := func(class string, iv fit.Interval, inset float64) {
		c.rect(class, zoom.at(iv.Low/phrase.MS.SI), top+inset, zoom.at(iv.High/phrase.MS.SI)-zoom.at(iv.Low/phrase.MS.SI), floor-top-inset)
	}
	if r.Fit.NextShot != nil {
		band("next", *r.Fit.NextShot, 0)
	}
	band("sure", r.Fit.Lag.Interval95, 0)
	c.line("mean", zoom.at(r.Fit.Lag.Value/phrase.MS.SI), top, zoom.at(r.Fit.Lag.Value/phrase.MS.SI), floor)
	swarm(c, s, lags, zoom, (top+floor)/2)
	c.rulerEdge(zoom, floor, int(math.Max(5, c.w/110)))
	c.text("title", zoom.p1, floor+26+1.5*c.font, "end", "lag in ms")
}

// swarm draws the lags as marks side by side, moved up or down where they would overlap.
func swarm(c *canvas, s shotList, lags []float64, a axis, mid float64) {
	order := make([]int, 0, len(lags))
	for i, v := range lags {
		if !math.IsNaN(v) {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(i, j int) int { return int(math.Copysign(1, lags[i]-lags[j])) })
	r := 5.0
	if len(order) > 60 {
		r = 3
	}
	var placed [][2]float64
	for _, i := range order {
		there := a.at(lags[i] / phrase.MS.SI)
		x := min(max(there, a.p0+4*r), a.p1-4*r)
		y := freeHeight(placed, x, mid, r)
		placed = append(placed, [2]float64{x, y})
		if there < a.p0 || there > a.p1 {
			c.beyondMark(x, y, r, math.Copysign(1, there-x))
		}
		if s.shots[i].Fit.Outlier {
			c.outlierMark(x, y, r)
			continue
		}
		c.mark(s.shots[i].Mark, x, y, r)
	}
}

// freeHeight is the height nearest to mid at which a mark at x touches no other.
func freeHeight(placed [][2]float64, x, mid, r float64) float64 {
	for k := 0; k < 9; k++ {
		y := mid + float64((k+1)/2)*2.3*r*math.Pow(-1, float64(k))
		free := true
		for _, p := range placed {
			free = free && math.Hypot(p[0]-x, p[1]-y) >= 2.2*r
		}
		if free {
			return y
		}
	}
	return mid
}
