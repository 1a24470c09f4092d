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
	if s.crowded() {
		d.Title = "All frames on one scale"
		d.Caption = "Each block is of one condition: its bars count how far from " + pastWhat(r) + " the front end " +
			"was in how many frames when the flash fired, the highest bar of each block as high as the others'. " +
			"The bracket below a block holds 95 % of all shots made like it, with 95 % confidence." + oneForMany
	}
	if n := len(s.blocks()); n < len(s.conds) {
		d.Caption += fmt.Sprintf(" Drawn are the first %d of %d conditions.", n, len(s.conds))
	}
	d.SVG = atAll(d.Title+". "+d.Caption+" "+commonSummary(r, s),
		func(l layout) *svg.Canvas { return drawCommon(l, r, s) })
	return d
}

func commonSummary(r calib.Result, s Shots) string {
	var t string
	groups := r.Fit.Advance
	if s.crowded() {
		groups = groups[:min(len(groups), mostConditions)]
	}
	for _, g := range groups {
		t += fmt.Sprintf("%s: %s, mean %s. ", phrase.GroupName(g), phrase.Count(g.N, "frame"),
			phrase.MM.At(g.Mean.Value-s.offset, phrase.Half(g.Mean)))
	}
	return t
}

// rowHeight keeps a figure of many frames on one sheet.
func rowHeight(n int) float64 { return min(11, max(3, 640/float64(n))) }

// barsHeight is that of a block of bars, px.
const barsHeight = 70

func drawCommon(l layout, r calib.Result, s Shots) *svg.Canvas {
	row := rowHeight(len(s.shots))
	head, foot := 2.3*l.font, 22.0
	blocks := row * float64(len(s.shots))
	if s.crowded() {
		blocks = barsHeight * float64(len(s.blocks()))
	}
	height := 30 + float64(len(s.blocks()))*(head+foot) + blocks + 70
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
	for k := range s.blocks() {
		y = drawBlock(c, r, s, k, a, y+head, row) + foot
	}
	c.Line("trip", a.At(0), 4, a.At(0), floor)
	rulerEdge(c, a, floor, n)
	c.Text("title", a.P1, floor+26+1.5*c.Font, "end", "mm past "+pastWhat(r))
	return c
}

// drawBlock draws the frames of one condition from y down and returns where it ended.
func drawBlock(c *svg.Canvas, r calib.Result, s Shots, k int, a svg.Axis, y, row float64) float64 {
	g := advanceOf(r, s.conds[k])
	c.Text("label", a.At(0)+8, y-9, "start", blockTitle(s, k, g, c.W < 500))
	if s.crowded() {
		y = drawBars(c, s, k, a, y)
	} else {
		y = drawStrips(c, s.of[k], a, y, row)
	}
	if g != nil && g.Tolerance95 != nil {
		drawBracket(c, a.At((g.Tolerance95.Low-s.offset)/phrase.MM.SI),
			a.At((g.Tolerance95.High-s.offset)/phrase.MM.SI), y+3)
	}
	return y
}

// drawStrips draws a strip for each shot and returns where they ended.
func drawStrips(c *svg.Canvas, shots []shot, a svg.Axis, y, row float64) float64 {
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
	return y
}

// drawBars counts how far the shots of condition k got, its odd shots marked, and returns where the
// bars stand.
func drawBars(c *svg.Canvas, s Shots, k int, a svg.Axis, y float64) float64 {
	var past []float64
	var marks []int
	for _, x := range s.of[k] {
		if !x.Fit.Outlier {
			past, marks = append(past, x.Past/phrase.MM.SI), append(marks, x.Mark)
		}
	}
	floor := y + barsHeight
	binned(past, marks, a, mostThinBins).draw(c, a, floor, barsHeight)
	thin := newThinner(s)
	for _, x := range s.of[k] {
		if x.Fit.Outlier {
			thin.mark(c, x, a.At(x.Past/phrase.MM.SI), y+barsHeight/2, 0, 5)
		}
	}
	return floor
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
	if n := len(s.of[k]) - g.N; n > 0 {
		t += fmt.Sprintf(" and %d odd", n) // which mean and deviation leave out
	}
	if g.N > 1 && g.SD > 0 {
		t += ", mean " + phrase.MM.At(g.Mean.Value-s.offset, phrase.Half(g.Mean)) +
			", standard deviation " + phrase.MM.At(g.SD, g.SD)
	}
	return t
}
