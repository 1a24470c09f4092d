package annotate

import (
	"strings"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/vision/ruler"
)

// drawFoot adds a foot with the name, the reading and what the marks mean.
func drawFoot(c *svg.Canvas, f calib.FrameResult, trip Trip) {
	const line, pad = 1.45 * annotatedText, 22.0
	lines := append(wrap(c, f.Name, c.W-2*pad), wrap(c, summary.Verdict(f), c.W-2*pad)...)
	top := c.H
	c.H += line*float64(len(lines)+1) + 2*pad - 8
	c.Rect("sheet", 0, top, c.W, c.H-top)
	y := top + pad + 0.8*annotatedText
	for _, s := range lines {
		c.Text("", pad, y, "start", s)
		y += line
	}
	drawKey(c, f, trip, ruler.Point{X: pad, Y: y})
}

// drawKey explains the marks that are on this picture.
func drawKey(c *svg.Canvas, f calib.FrameResult, trip Trip, p ruler.Point) {
	key := func(class, shape, text string) {
		c.Path("line "+class, shape)
		c.Text("", p.X+66, p.Y, "start", text)
		p.X += 66 + c.TextWidth(text) + 34
	}
	stroke := func() string {
		return svg.Polyline([]float64{p.X, p.X + 54}, []float64{p.Y - 0.32*annotatedText, p.Y - 0.32*annotatedText})
	}
	if f.Status == ruler.StatusRead {
		if f.Reading.Twin != nil {
			key("front", stroke(), "front end, first flash")
			key("twin", stroke(), "second")
		} else {
			key("front", stroke(), "front end")
		}
		row := ""
		for x := p.X + 2; x < p.X+54; x += 9 {
			row += svg.Polyline([]float64{x, x}, []float64{p.Y - 0.64*annotatedText, p.Y})
		}
		key("ticks", row, "graduations")
	}
	if trip.Line != nil {
		key("trip", stroke(), trip.Name)
	}
}

// wrap breaks s into lines that fit, at spaces where there are any.
func wrap(c *svg.Canvas, s string, width float64) []string {
	most := max(8, int(width/c.TextWidth("n")))
	var lines []string
	for _, word := range strings.Fields(s) {
		if n := len(lines); n > 0 && len([]rune(lines[n-1]))+1+len([]rune(word)) <= most {
			lines[n-1] += " " + word
			continue
		}
		for q := []rune(word); len(q) > most; q = []rune(word) {
			lines, word = append(lines, string(q[:most])), string(q[most:])
		}
		lines = append(lines, word)
	}
	return lines
}

const annotatedText = 25.0 // units
