package figure

import (
	"html/template"
	"math"

	"leadmark/cmd/leadmark/report/figure/svg"
)

// layout is one of the widths every figure is drawn at. The page shows the one that fits, so
// that text is never scaled below 14 px.
type layout struct {
	class string
	width float64
	font  float64
}

var layouts = []layout{{"narrow", 340, 17}, {"middle", 600, 17}, {"wide", 900, 16}}

func (l layout) narrow() bool { return l.class == "narrow" }

func newCanvas(l layout, h float64) *svg.Canvas { return &svg.Canvas{W: l.width, H: h, Font: l.font} }

// Room about a plot, px.
const (
	plotTop    = 34 // for the title of the vertical axis
	plotBottom = 56 // for the values and the title of the other
)

// plot is a canvas with two axes.
type plot struct {
	*svg.Canvas
	l    layout
	x, y svg.Axis
}

// newPlot lays out axes for values lo to hi; left is the room for the labels of the y axis.
func newPlot(l layout, h float64, x, y svg.Axis) *plot {
	p := &plot{Canvas: newCanvas(l, h), l: l, x: x, y: y}
	left := 56.0
	if l.narrow() {
		left = 48
	}
	p.x.P0, p.x.P1 = left, l.width-12
	p.y.P0, p.y.P1 = h-plotBottom, plotTop
	return p
}

// yAxis draws light lines across, their values, and the title above them.
func (p *plot) yAxis(title string) {
	n := 6
	if p.l.narrow() {
		n = 5
	}
	values, step := p.y.Ticks(n)
	for _, v := range values {
		y := p.y.At(v)
		class := "grid"
		if v == 0 {
			class = "zero"
		}
		p.Line(class, p.x.P0, y, p.x.P1, y)
		p.Text("tick", p.x.P0-8, y+0.35*p.Font, "end", svg.TickText(v, step))
	}
	p.Text("title", 0, p.Font, "start", title)
}

// xAxis draws the horizontal axis as the edge of a ruler: long marks with values, short ones
// between.
func (p *plot) xAxis(title string) {
	n := 9
	if p.l.narrow() {
		n = 5
	}
	rulerEdge(p.Canvas, p.x, p.y.P0, n)
	p.Text("title", p.x.P1, p.y.P0+24+1.55*p.Font, "end", title)
}

// rulerEdge draws axis a along y with graduations below it.
func rulerEdge(c *svg.Canvas, a svg.Axis, y float64, n int) {
	c.Line("axis", a.P0, y, a.P1, y)
	values, step := a.Ticks(n)
	minor := step / 5
	for k := math.Ceil(a.Lo/minor - 1e-9); k*minor <= a.Hi+1e-9*minor; k++ {
		c.Line("minor", a.At(k*minor), y, a.At(k*minor), y+4)
	}
	for _, v := range values {
		c.Line("axis", a.At(v), y, a.At(v), y+9)
		c.Text("tick", a.At(v), y+11+c.Font, "middle", svg.TickText(v, step))
	}
}

// atAll draws a figure once for every layout.
func atAll(label string, draw func(l layout) *svg.Canvas) []template.HTML {
	out := make([]template.HTML, len(layouts))
	for i, l := range layouts {
		out[i] = template.HTML(draw(l).SVG(l.class, label)) // the canvas escapes every text
	}
	return out
}

func plotHeight(l layout) float64 {
	switch l.class {
	case "narrow":
		return 340
	case "middle":
		return 360 // two of them on a printed page
	}
	return 430
}
