package svg

import (
	"fmt"
	"html"
	"strings"

	"leadmark/cmd/leadmark/report/phrase"
)

// Canvas writes one inline SVG. Every colour is a class that the page's style sheet fills in,
// so a figure follows the light, the dark and the printed look. Text is escaped here.
type Canvas struct {
	b    strings.Builder
	W, H float64
	Font float64 // px, height of ordinary text
}

// Line draws a straight line.
func (c *Canvas) Line(class string, x1, y1, x2, y2 float64) {
	fmt.Fprintf(&c.b, `<line class="%s" x1="%s" y1="%s" x2="%s" y2="%s"/>`, class, PX(x1), PX(y1), PX(x2), PX(y2))
}

// Rect draws a rectangle; of a negative width or height nothing is seen.
func (c *Canvas) Rect(class string, x, y, w, h float64) {
	fmt.Fprintf(&c.b, `<rect class="%s" x="%s" y="%s" width="%s" height="%s"/>`, class, PX(x), PX(y),
		PX(max(w, 0)), PX(max(h, 0)))
}

// Add writes markup that is escaped already.
func (c *Canvas) Add(markup string) { c.b.WriteString(markup) }

// Body is what was drawn so far.
func (c *Canvas) Body() string { return c.b.String() }

// Path draws a path in SVG's own words.
func (c *Canvas) Path(class, d string) { fmt.Fprintf(&c.b, `<path class="%s" d="%s"/>`, class, d) }

// Text writes s with its baseline at y; anchor is start, middle or end.
func (c *Canvas) Text(class string, x, y float64, anchor, s string) {
	fmt.Fprintf(&c.b, `<text class="%s" x="%s" y="%s" text-anchor="%s">%s</text>`, class, PX(x), PX(y), anchor,
		html.EscapeString(phrase.Typeset(s)))
}

// TextWidth estimates how wide s is: about 0.56 em a character in the faces the page asks for.
func (c *Canvas) TextWidth(s string) float64 { return 0.56 * c.Font * float64(len([]rune(s))) }

// SVG closes the drawing. The description stands in for the picture where it cannot be seen.
func (c *Canvas) SVG(class, label string) string {
	return fmt.Sprintf(`<svg class="fig %s" viewBox="0 0 %s %s" role="img" aria-label="%s" font-size="%s">%s</svg>`,
		class, PX(c.W), PX(c.H), html.EscapeString(label), PX(c.Font), c.b.String())
}
