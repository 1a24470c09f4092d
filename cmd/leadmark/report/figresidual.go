package report

import (
	"fmt"
	"math"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/phrase"
)

// residualFigure draws what is left of each advance after the fit, in shooting order, so that a
// rig that drifts, a frame that does not fit and a spread that grows can be seen.
func residualFigure(r calib.Result, s shotList) *drawn {
	if len(r.Fit.Shots) == 0 || len(s.shots) < 2 {
		return nil
	}
	d := &drawn{Title: "What is left after the fit, in shooting order"}
	order := "in the order of their times"
	if !s.ordered {
		order = "in the order of the run (not every file gives its time)"
	}
	d.Caption = "Residual of each frame (advance read minus advance fitted), " + order +
		". The band is where 95 % of frames are expected: spread and reading error together. A cross in a " +
		"ring marks an odd shot; one beyond the figure stands at its edge."
	d.SVG = atAll(d.Title+". "+d.Caption+" "+residualSummary(s), func(l layout) *canvas { return drawResiduals(l, s) })
	return d
}

func residualSummary(s shotList) string {
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

func drawResiduals(l layout, s shotList) *canvas {
	n, top := len(s.shots), residualRange(s)
	p := newPlot(l, plotHeight(l)-60, axis{lo: 0.5, hi: float64(n) + 0.5}, axis{lo: -top, hi: top})
	bandSteps(p, s)
	p.yAxis("residual in mm")
	p.countAxis(n, "frame read, in shooting order")
	for i, x := range s.shots {
		cx, cy := p.x.at(float64(i+1)), residualAt(p, x)
		p.line("stem", cx, p.y.at(0), cx, cy)
		if x.Fit.Outlier {
			p.outlierMark(cx, cy, 5.5)
			continue
		}
		p.mark(x.Mark, cx, cy, markRadius(p, n))
	}
	labelOutliers(p, s)
	return p.canvas
}

// residualRange, in mm, is set by the frames that follow the fit; an outlier may widen it by half.
func residualRange(s shotList) float64 {
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
	return min(max(p.y.at(x.Fit.Residual/phrase.MM.SI), p.y.p1+14), p.y.p0-14)
}

func beyond(p *plot, x shot) bool {
	r := x.Fit.Residual / phrase.MM.SI
	return r > p.y.hi || r < p.y.lo
}

func markRadius(p *plot, n int) float64 {
	return min(5, max(2, 0.45*(p.x.p1-p.x.p0)/float64(n)))
}

// bandSteps draws the expected band, one step a frame.
func bandSteps(p *plot, s shotList) {
	var xs, lo, hi []float64
	k := quantile95(math.Inf(1))
	for i, x := range s.shots {
		e := k * expected(x) / phrase.MM.SI
		for _, side := range []float64{0.5, 1.5} {
			xs = append(xs, p.x.at(float64(i)+side))
			lo, hi = append(lo, p.y.at(-e)), append(hi, p.y.at(e))
		}
	}
	p.path("next", ribbon(xs, lo, hi))
}

// countAxis is an axis of whole numbers.
func (p *plot) countAxis(n int, title string) {
	p.line("axis", p.x.p0, p.y.p0, p.x.p1, p.y.p0)
	step := max(1, niceStep(float64(n)/8))
	for k := step; k <= float64(n); k += step {
		p.line("axis", p.x.at(k), p.y.p0, p.x.at(k), p.y.p0+6)
		p.text("tick", p.x.at(k), p.y.p0+9+p.font, "middle", tickText(k, step))
	}
	p.text("title", p.x.p1, p.y.p0+24+1.55*p.font, "end", title)
}

// labelOutliers writes the file's name beside an outlier, as long as there are only a few.
func labelOutliers(p *plot, s shotList) {
	if p.l.narrow() {
		return
	}
	named := 0
	for i, x := range s.shots {
		if !x.Fit.Outlier || named == 4 {
			continue
		}
		named++
		cx, cy := p.x.at(float64(i+1)), residualAt(p, x)
		name := shorten(x.Name, 24)
		if beyond(p, x) {
			name += ", beyond the figure at " + phrase.MM.At(x.Fit.Residual, expected(x))
		}
		if cx+14+p.textWidth(name) < p.x.p1 {
			p.text("label", cx+12, cy+0.35*p.font, "start", name)
		} else {
			p.text("label", cx-12, cy+0.35*p.font, "end", name)
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
