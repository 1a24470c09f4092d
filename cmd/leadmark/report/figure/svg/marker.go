package svg

import (
	"fmt"
	"math"

	"leadmark/cmd/leadmark/report/style"
)

// shapes are the marks of the series: told apart without colour.
const shapes = 7

// Mark draws the mark of series k, about r in radius.
func (c *Canvas) Mark(k int, x, y, r float64) {
	class := fmt.Sprintf("mk s%d", k%style.Series)
	switch k % shapes {
	case 0:
		fmt.Fprintf(&c.b, `<circle class="%s" cx="%s" cy="%s" r="%s"/>`, class, PX(x), PX(y), PX(r))
	case 1:
		s := 0.88 * r
		c.Rect(class, x-s, y-s, 2*s, 2*s)
	case 2:
		c.Path(class, Polygon(x, y, 1.25*r, 3, -math.Pi/2))
	case 3:
		c.Path(class, Polygon(x, y, 1.25*r, 4, -math.Pi/2))
	case 4:
		c.Path(class, Polygon(x, y, 1.25*r, 3, math.Pi/2))
	case 5:
		c.Path(class, Polygon(x, y, 1.1*r, 6, 0))
	default:
		c.Path(class, Polygon(x, y, 1.15*r, 5, -math.Pi/2))
	}
}

// OutlierMark draws a cross in a ring, the mark of a frame that does not fit.
func (c *Canvas) OutlierMark(x, y, r float64) {
	s := 0.6 * r
	fmt.Fprintf(&c.b, `<circle class="outlier" cx="%s" cy="%s" r="%s"/>`, PX(x), PX(y), PX(1.3*r))
	c.Path("outlier", fmt.Sprintf("M%s %sL%s %sM%s %sL%s %s",
		PX(x-s), PX(y-s), PX(x+s), PX(y+s), PX(x-s), PX(y+s), PX(x+s), PX(y-s)))
}

// BeyondMark is an arrow beside a mark whose place lies further out than the figure, to the right
// (way 1) or to the left (-1).
func (c *Canvas) BeyondMark(x, y, r, way float64) {
	from, to, head := x+way*1.7*r, x+way*3.6*r, 0.8*r
	c.Path("outlier", fmt.Sprintf("M%s %sH%sm%s %sl%s %sl%s %s", PX(from), PX(y), PX(to), PX(-way*head),
		PX(-head), PX(way*head), PX(head), PX(-way*head), PX(head)))
}
