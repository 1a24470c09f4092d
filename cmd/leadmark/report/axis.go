package report

import (
	"math"

	"leadmark/cmd/leadmark/report/phrase"
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

// axis maps values to pixels.
type axis struct{ lo, hi, p0, p1 float64 }

func (a axis) at(v float64) float64 { return a.p0 + (v-a.lo)/(a.hi-a.lo)*(a.p1-a.p0) }

// ticks are round values 1, 2 or 5 times a power of ten apart, at most n of them.
func (a axis) ticks(n int) (values []float64, step float64) {
	step = niceStep((a.hi - a.lo) / float64(n))
	for k := math.Ceil(a.lo/step - 1e-9); k*step <= a.hi+1e-9*step; k++ {
		values = append(values, k*step)
	}
	return values, step
}

func niceStep(raw float64) float64 {
	if !(raw > 0) || math.IsInf(raw, 0) {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5} {
		if m*p >= raw*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// padded widens an axis by a share of its range; a range of zero gets some width.
func padded(lo, hi, share float64) (float64, float64) {
	d := (hi - lo) * share
	if !(d > 0) {
		d = math.Max(math.Abs(hi)*0.1, 1e-3)
	}
	return lo - d, hi + d
}

// tickText prints a tick with the digits that its step needs.
func tickText(v, step float64) string {
	d := 0
	if step < 1 {
		d = int(math.Ceil(-math.Log10(step) - 1e-9))
	}
	return phrase.Digits(v, d)
}

// plot is a canvas with two axes.
type plot struct {
	*canvas
	l    layout
	x, y axis
}

const (
	plotTop    = 34 // room for the title of the vertical axis
	plotBottom = 56
)

// newPlot lays out axes for values lo to hi; left is the room for the labels of the y axis.
func newPlot(l layout, h float64, x, y axis) *plot {
	p := &plot{canvas: newCanvas(l, h), l: l, x: x, y: y}
	left := 56.0
	if l.narrow() {
		left = 48
	}
	p.x.p0, p.x.p1 = left, l.width-12
	p.y.p0, p.y.p1 = h-plotBottom, plotTop
	return p
}

// yAxis draws light lines across, their values, and the title above them.
func (p *plot) yAxis(title string) {
	n := 6
	if p.l.narrow() {
		n = 5
	}
	values, step := p.y.ticks(n)
	for _, v := range values {
		y := p.y.at(v)
		class := "grid"
		if v == 0 {
			class = "zero"
		}
		p.line(class, p.x.p0, y, p.x.p1, y)
		p.text("tick", p.x.p0-8, y+0.35*p.font, "end", tickText(v, step))
	}
	p.text("title", 0, p.font, "start", title)
}

// xAxis draws the horizontal axis as the edge of a ruler: long marks with values, short ones between.
func (p *plot) xAxis(title string) {
	n := 9
	if p.l.narrow() {
		n = 5
	}
	p.rulerEdge(p.x, p.y.p0, n)
	p.text("title", p.x.p1, p.y.p0+24+1.55*p.font, "end", title)
}

// rulerEdge draws axis a along y with graduations below it.
func (c *canvas) rulerEdge(a axis, y float64, n int) {
	c.line("axis", a.p0, y, a.p1, y)
	values, step := a.ticks(n)
	minor := step / 5
	for k := math.Ceil(a.lo/minor - 1e-9); k*minor <= a.hi+1e-9*minor; k++ {
		c.line("minor", a.at(k*minor), y, a.at(k*minor), y+4)
	}
	for _, v := range values {
		c.line("axis", a.at(v), y, a.at(v), y+9)
		c.text("tick", a.at(v), y+11+c.font, "middle", tickText(v, step))
	}
}

// drawn is a figure at all widths with its title and caption.
type drawn struct {
	Title   string
	Caption string
	SVG     []string
}

// atAll draws a figure once for every layout.
func atAll(label string, draw func(l layout) *canvas) []string {
	out := make([]string, len(layouts))
	for i, l := range layouts {
		out[i] = draw(l).svg(l.class, label)
	}
	return out
}
