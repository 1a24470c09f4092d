package figure

import (
	"fmt"
	"math"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
)

// Residuals draws what is left of each advance after the fit, in shooting order, so that a
// rig that drifts, a frame that does not fit and a spread that grows can be seen.
func Residuals(r calib.Result, s Shots) *Figure {
	if len(r.Fit.Shots) == 0 || len(s.shots) < 2 {
		return nil
	}
	d := &Figure{Title: "What is left after the fit, in shooting order"}
	order := "in the order of their times"
	if !s.ordered {
		order = "in the order of the run (not every file gives its time)"
	}
	d.Caption = "Residual of each frame (advance read minus advance fitted), " + order +
		". The band is where 95 % of frames are expected: spread and reading error together. A cross in a " +
		"ring marks an odd shot; one beyond the figure stands at its edge."
	if s.crowded() {
		d.Caption += " Each column is of some frames in a row: the line from the lowest to the highest that is " +
			"not odd, the bar the middle half of them." + oneForMany
	}
	d.SVG = atAll(d.Title+". "+d.Caption+" "+residualSummary(s),
		func(l layout) *svg.Canvas { return drawResiduals(l, s) })
	return d
}

func residualSummary(s Shots) string {
	var out int
	for _, x := range s.shots {
		if x.Fit.Outlier {
			out++
		}
	}
	return fmt.Sprintf("%s, %s.", phrase.Count(len(s.shots), "frame"), phrase.Count(out, "odd shot"))
}

// expected is the standard deviation the model expects of a frame's residual, in m: Residual / Z,
// or the reading error where the frame lies on the curve.
func expected(x shot) float64 {
	if sd := math.Abs(x.Fit.Residual / x.Fit.Z); sd > 0 && !math.IsInf(sd, 0) {
		return sd
	}
	return x.U
}

func drawResiduals(l layout, s Shots) *svg.Canvas {
	n, top := len(s.shots), residualRange(s)
	p := newPlot(l, plotHeight(l)-60, svg.Axis{Lo: 0.5, Hi: float64(n) + 0.5}, svg.Axis{Lo: -top, Hi: top})
	stretches := stretchesOf(p, s)
	bandSteps(p, stretches)
	p.yAxis("residual in mm")
	p.countAxis(n, "frame read, in shooting order")
	if s.crowded() {
		drawStretches(p, s, stretches)
	} else {
		drawEach(p, s)
	}
	labelOutliers(p, s)
	return p.Canvas
}

func drawEach(p *plot, s Shots) {
	for i, x := range s.shots {
		cx, cy := p.x.At(float64(i+1)), residualAt(p, x)
		p.Line("stem", cx, p.y.At(0), cx, cy)
		if x.Fit.Outlier {
			p.OutlierMark(cx, cy, 5.5)
			continue
		}
		p.Mark(x.Mark, cx, cy, markRadius(p, len(s.shots)))
	}
}

// residualRange, in mm, is set by the frames that follow the fit; an outlier may widen it by half.
func residualRange(s Shots) float64 {
	band, all := 0.0, 0.0
	for _, x := range s.shots {
		band = max(band, quantile95(math.Inf(1))*expected(x)/phrase.MM.SI)
		all = max(all, math.Abs(x.Fit.Residual)/phrase.MM.SI)
		if !x.Fit.Outlier {
			band = max(band, math.Abs(x.Fit.Residual)/phrase.MM.SI)
		}
	}
	return 1.12 * min(max(band, all), 1.6*band)
}

// residualAt is the height of a frame's mark; one beyond the figure stands at its edge.
func residualAt(p *plot, x shot) float64 {
	return min(max(p.y.At(x.Fit.Residual/phrase.MM.SI), p.y.P1+14), p.y.P0-14)
}

func beyond(p *plot, x shot) bool {
	r := x.Fit.Residual / phrase.MM.SI
	return r > p.y.Hi || r < p.y.Lo
}

func markRadius(p *plot, n int) float64 {
	return min(5, max(2, 0.45*(p.x.P1-p.x.P0)/float64(n)))
}

// bandSteps draws the expected band, one step a stretch.
func bandSteps(p *plot, stretches []stretch) {
	var xs, lo, hi []float64
	k := quantile95(math.Inf(1))
	for _, c := range stretches {
		e := k * c.expected() / phrase.MM.SI
		for _, side := range []int{c.from, c.from + len(c.shots)} {
			xs = append(xs, p.x.At(float64(side)+0.5))
			lo, hi = append(lo, p.y.At(-e)), append(hi, p.y.At(e))
		}
	}
	p.Path("next", svg.Ribbon(xs, lo, hi))
}

// countAxis is an axis of whole numbers.
func (p *plot) countAxis(n int, title string) {
	p.Line("axis", p.x.P0, p.y.P0, p.x.P1, p.y.P0)
	step := max(1, svg.NiceStep(float64(n)/8))
	for k := step; k <= float64(n); k += step {
		p.Line("axis", p.x.At(k), p.y.P0, p.x.At(k), p.y.P0+6)
		p.Text("tick", p.x.At(k), p.y.P0+9+p.Font, "middle", svg.TickText(k, step))
	}
	p.Text("title", p.x.P1, p.y.P0+24+1.55*p.Font, "end", title)
}

// labelOutliers writes the file's name beside an outlier, as long as there are only a few.
func labelOutliers(p *plot, s Shots) {
	if p.l.narrow() {
		return
	}
	named := 0
	for i, x := range s.shots {
		if named == 4 {
			break
		}
		if !x.Fit.Outlier {
			continue
		}
		named++
		cx, cy := p.x.At(float64(i+1)), residualAt(p, x)
		name := shorten(x.Name, 24)
		if beyond(p, x) {
			name += ", beyond the figure at " + phrase.MM.At(x.Fit.Residual, expected(x))
		}
		if cx+14+p.TextWidth(name) < p.x.P1 {
			p.Text("label", cx+12, cy+0.35*p.Font, "start", name)
		} else {
			p.Text("label", cx-12, cy+0.35*p.Font, "end", name)
		}
	}
}

// shorten keeps both ends of a name that is too long.
func shorten(s string, most int) string {
	q := []rune(s)
	if len(q) <= most {
		return s
	}
	return string(q[:most/2]) + "…" + string(q[len(q)-most/2+1:])
}
