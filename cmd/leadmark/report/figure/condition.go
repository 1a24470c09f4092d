package figure

import (
	"leadmark/calib"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
)

// conditionFigure draws the advances side by side, where nothing was varied that the model knows.
func conditionFigure(r calib.Result, s Shots) *Figure {
	d := &Figure{Title: "Advance, shot by shot"}
	d.Caption = "Each mark is one frame: how far the front end was past " + pastWhat(r) +
		" when the flash fired. The line is the mean with its 95 % interval; the bracket holds 95 % of all " +
		"shots with 95 % confidence."
	if s.crowded() {
		d.Caption += oneForMany
	}
	d.SVG = atAll(d.Title+". "+d.Caption, func(l layout) *svg.Canvas {
		lo, hi := svg.Padded(rangeOf(r, s, 0.1))
		p := newPlot(l, plotHeight(l), svg.Axis{Lo: 0, Hi: float64(len(s.conds))}, svg.Axis{Lo: lo, Hi: hi})
		p.yAxis("mm past " + pastWhat(r))
		p.Line("axis", p.x.P0, p.y.P0, p.x.P1, p.y.P0)
		for i := range s.conds {
			drawCondition(p, r, s, i)
		}
		return p.Canvas
	})
	return d
}

func drawCondition(p *plot, r calib.Result, s Shots, k int) {
	x0, x1 := p.x.At(float64(k)), p.x.At(float64(k+1))
	mid, w := (x0+x1)/2, min((x1-x0)*0.7, 260)
	if g := advanceOf(r, s.conds[k]); g != nil {
		y := func(v float64) float64 { return p.y.At((v - s.offset) / phrase.MM.SI) }
		iv := g.Mean.Interval95
		p.Rect("band", mid-w/2, y(iv.High), w, y(iv.Low)-y(iv.High))
		p.Line("curve", mid-w/2, y(g.Mean.Value), mid+w/2, y(g.Mean.Value))
		if t := g.Tolerance95; t != nil {
			p.Path("bracket", svg.Polyline([]float64{mid + w/2 - 8, mid + w/2, mid + w/2, mid + w/2 - 8},
				[]float64{y(t.High), y(t.High), y(t.Low), y(t.Low)}))
		}
	}
	p.Text("tick", mid, p.y.P0+8+p.Font, "middle", s.conds[k].Name())
	thin, n := newThinner(s), len(s.of[k])
	for i, sh := range s.of[k] {
		x := mid - 0.4*w + 0.8*w*(float64(i)+0.5)/float64(n)
		thin.mark(p.Canvas, sh, x, p.y.At(sh.Past/phrase.MM.SI), 5, 5)
	}
}
