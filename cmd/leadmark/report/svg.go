package report

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/style"
)

// canvas writes one inline SVG. Every colour is a class that the page's style sheet fills in,
// so a figure follows the light, the dark and the printed look. Text is escaped here.
type canvas struct {
	b    strings.Builder
	w, h float64
	font float64 // px, height of ordinary text
}

func newCanvas(l layout, h float64) *canvas { return &canvas{w: l.width, h: h, font: l.font} }

// px prints a coordinate to a tenth of a pixel.
func px(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		v = 0
	}
	return strconv.FormatFloat(phrase.Round(v, 1), 'f', -1, 64)
}

func (c *canvas) line(class string, x1, y1, x2, y2 float64) {
	fmt.Fprintf(&c.b, `<line class="%s" x1="%s" y1="%s" x2="%s" y2="%s"/>`, class, px(x1), px(y1), px(x2), px(y2))
}

func (c *canvas) rect(class string, x, y, w, h float64) {
	fmt.Fprintf(&c.b, `<rect class="%s" x="%s" y="%s" width="%s" height="%s"/>`, class, px(x), px(y),
		px(max(w, 0)), px(max(h, 0)))
}

func (c *canvas) path(class, d string) { fmt.Fprintf(&c.b, `<path class="%s" d="%s"/>`, class, d) }

// text writes s with its baseline at y; anchor is start, middle or end.
func (c *canvas) text(class string, x, y float64, anchor, s string) {
	fmt.Fprintf(&c.b, `<text class="%s" x="%s" y="%s" text-anchor="%s">%s</text>`, class, px(x), px(y), anchor,
		html.EscapeString(phrase.Typeset(s)))
}

// textWidth estimates how wide s is: about 0.56 em a character in the faces the page asks for.
func (c *canvas) textWidth(s string) float64 { return 0.56 * c.font * float64(len([]rune(s))) }

// polyline is the path through the points.
func polyline(xs, ys []float64) string {
	var b strings.Builder
	for i := range xs {
		op := "L"
		if i == 0 {
			op = "M"
		}
		b.WriteString(op + px(xs[i]) + " " + px(ys[i]))
	}
	return b.String()
}

// ribbon is the closed path between two curves over the same xs.
func ribbon(xs, lo, hi []float64) string {
	var b strings.Builder
	b.WriteString(polyline(xs, hi))
	for i := len(xs) - 1; i >= 0; i-- {
		b.WriteString("L" + px(xs[i]) + " " + px(lo[i]))
	}
	b.WriteString("Z")
	return b.String()
}

// shapes are the marks of the series: told apart without colour.
const shapes = 7

// mark draws the mark of series k, about r in radius.
func (c *canvas) mark(k int, x, y, r float64) {
	class := fmt.Sprintf("mk s%d", k%style.Series)
	switch k % shapes {
	case 0:
		fmt.Fprintf(&c.b, `<circle class="%s" cx="%s" cy="%s" r="%s"/>`, class, px(x), px(y), px(r))
	case 1:
		s := 0.88 * r
		c.rect(class, x-s, y-s, 2*s, 2*s)
	case 2:
		c.path(class, poly(x, y, 1.25*r, 3, -math.Pi/2))
	case 3:
		c.path(class, poly(x, y, 1.25*r, 4, -math.Pi/2))
	case 4:
		c.path(class, poly(x, y, 1.25*r, 3, math.Pi/2))
	case 5:
		c.path(class, poly(x, y, 1.1*r, 6, 0))
	default:
		c.path(class, poly(x, y, 1.15*r, 5, -math.Pi/2))
	}
}

// outlierMark draws a cross in a ring, the mark of a frame that does not fit.
func (c *canvas) outlierMark(x, y, r float64) {
	s := 0.6 * r
	fmt.Fprintf(&c.b, `<circle class="outlier" cx="%s" cy="%s" r="%s"/>`, px(x), px(y), px(1.3*r))
	c.path("outlier", fmt.Sprintf("M%s %sL%s %sM%s %sL%s %s",
		px(x-s), px(y-s), px(x+s), px(y+s), px(x-s), px(y+s), px(x+s), px(y-s)))
}

// beyondMark is an arrow beside a mark whose place lies further out than the figure, to the right
// (way 1) or to the left (-1).
func (c *canvas) beyondMark(x, y, r, way float64) {
	from, to, head := x+way*1.7*r, x+way*3.6*r, 0.8*r
	c.path("outlier", fmt.Sprintf("M%s %sH%sm%s %sl%s %sl%s %s", px(from), px(y), px(to), px(-way*head),
		px(-head), px(way*head), px(head), px(-way*head), px(head)))
}

// poly is a regular polygon of n corners, the first at angle a0.
func poly(x, y, r float64, n int, a0 float64) string {
	xs, ys := make([]float64, n), make([]float64, n)
	for i := range xs {
		sin, cos := math.Sincos(a0 + 2*math.Pi*float64(i)/float64(n))
		xs[i], ys[i] = x+r*cos, y+r*sin
	}
	return polyline(xs, ys) + "Z"
}

// svg closes the drawing. The description stands in for the picture where it cannot be seen.
func (c *canvas) svg(class, label string) string {
	return fmt.Sprintf(`<svg class="fig %s" viewBox="0 0 %s %s" role="img" aria-label="%s" font-size="%s">%s</svg>`,
		class, px(c.w), px(c.h), html.EscapeString(label), px(c.font), c.b.String())
}
