package figure

import (
	"fmt"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/style"
	"leadmark/fit"
)

// Common draws every frame's ruler on one scale from the trip place on: a strip for each
// frame, as far as its front end got, the frames of one condition together.
func Common(r calib.Result, s Shots) *Figure {
	if len(s.shots) == 0 {
		return nil
	}
	d := &Figure{Title: "Every frame on one scale"}
	d.Caption = "Each strip is the ruler in one frame, from " + pastWhat(r) +
		" to its front end when the flash fired, in shooting order within each condition. The bracket below " +
		"a block holds 95 % of all shots made like it, with 95 % confidence."
	d.SVG = atAll(d.Title+". "+d.Caption+" "+commonSummary(r, s.offset),
		func(l layout) *svg.Canvas { return drawCommon(l, r, s) })
	return d
}

func commonSummary(r calib.Result, offset float64) string {
	var t string
	for _, g := range r.Fit.Advance {
		t += fmt.Sprintf("%s: %s, mean %s. ", phrase.GroupName(g), phrase.Count(g.N, "frame"),
			phrase.MM.At(g.Mean.Value-offset, phrase.Half(g.Mean)))
	}
	return t
}

// rowHeight keeps a figure of many frames on one sheet.
func rowHeight(n int) float64 { return min(11, max(3, 640/float64(n))) }

func drawCommon(l layout, r calib.Result, s Shots) *svg.Canvas {
	row := rowHeight(len(s.shots))
	head, foot := 2.3*l.font, 22.0
	height := 30 + float64(len(s.conds))*(head+foot) + row*float64(len(s.shots)) + 70
	c := newCanvas(l, height)
	lo, hi, _ := rangeOf(r, s, 0)
	a := svg.Axis{Lo: min(0, lo), Hi: hi * 1.03, P0: 10, P1: l.width - 14}
	if a.Hi <= a.Lo {
		a.Hi = a.Lo + 1
	}
	floor := height - 62
	n := int(max(5, l.width/100))
	values, _ := a.Ticks(n)
	for _, v := range values {
		c.Line("grid", a.At(v), 8, a.At(v), floor)
	}
	y := 8.0
	for k := range s.conds {
		y = drawBlock(c, r, s, k, a, y+head, row) + foot
	}
	c.Line("trip", a.At(0), 4, a.At(0), floor)
	rulerEdge(c, a, floor, n)
	c.Text("title", a.P1, floor+26+1.5*c.Font, "end", "mm past "+pastWhat(r))
	return c
}

// drawBlock draws the frames of one condition from y down and returns where it ended.
func drawBlock(c *svg.Canvas, r calib.Result, s Shots, k int, a svg.Axis, y, row float64) float64 {
	shots, g := shotsOf(s, k), advanceOf(r, s.conds[k])
	c.Text("label", a.At(0)+8, y-9, "start", blockTitle(s, k, g, c.W < 500))
	for _, x := range shots {
		end := a.At(x.Past / phrase.MM.SI)
		c.Rect(fmt.Sprintf("strip s%d", x.Mark%style.Series), min(a.At(0), end), y+0.15*row,
			max(end-a.At(0), a.At(0)-end), 0.7*row)
		if x.Fit.Outlier {
			c.OutlierMark(end, y+row/2, min(5, 0.55*row))
		} else {
			c.Mark(x.Mark, end, y+row/2, min(4.5, 0.5*row))
		}
		y += row
	}
	if g != nil && g.Tolerance95 != nil {
		drawBracket(c, a.At((g.Tolerance95.Low-s.offset)/phrase.MM.SI),
			a.At((g.Tolerance95.High-s.offset)/phrase.MM.SI), y+3)
	}
	return y
}

func drawBracket(c *svg.Canvas, x0, x1, y float64) {
	c.Path("bracket", svg.Polyline([]float64{x0, x0, x1, x1}, []float64{y, y + 7, y + 7, y}))
}

// blockTitle names a condition; its mean counts from where the figure does.
func blockTitle(s Shots, k int, g *fit.AdvanceGroup, short bool) string {
	t := s.conds[k].Name()
	if short || g == nil {
		return t
	}
	t += ": " + phrase.Count(g.N, "frame")
	if n := len(shotsOf(s, k)) - g.N; n > 0 {
		t += fmt.Sprintf(" and %d odd", n) // which mean and deviation leave out
	}
	if g.N > 1 && g.SD > 0 {
		t += ", mean " + phrase.MM.At(g.Mean.Value-s.offset, phrase.Half(g.Mean)) +
			", standard deviation " + phrase.MM.At(g.SD, g.SD)
	}
	return t
}
