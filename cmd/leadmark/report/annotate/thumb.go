package annotate

import (
	"encoding/base64"
	"fmt"
	"html/template"
	"math"
	"strings"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/vision/ruler"
)

const shownSide = 430.0 // px, about how long a thumbnail's longer side is shown

// Thumb is a small picture for the page, with the marks as strokes of their own over it.
type Thumb struct {
	URL     template.URL
	W, H    int
	Overlay template.HTML
}

// MakeThumb shows a frame's small clip.
func MakeThumb(c ruler.Clip, f calib.FrameResult, trip Trip) *Thumb {
	return &Thumb{
		URL: template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(c.JPEG)),
		W:   c.Width, H: c.Height, Overlay: template.HTML(overlay(viewOfClip(c, shownSide), f, trip)),
	}
}

// overlay draws the marks as an SVG of the thumbnail's own shape.
func overlay(v view, f calib.FrameResult, trip Trip) string {
	c := &svg.Canvas{W: v.w, H: v.h}
	strokes(c, v, marksOn(f, trip, 9/v.k(), 2.6/v.k()))
	if c.Body() == "" {
		return ""
	}
	return fmt.Sprintf(`<svg class="over" viewBox="0 0 %s %s" aria-hidden="true">%s</svg>`, svg.PX(c.W), svg.PX(c.H),
		c.Body())
}

// strokes draws the graduations, the trip line and the front end.
func strokes(c *svg.Canvas, v view, m found) {
	var seen, placed strings.Builder
	for _, t := range m.Graduations {
		b := &seen
		if !t.Seen {
			b = &placed
		}
		b.WriteString(pathOf(v, t.segment))
	}
	twice(c, "ticks", seen.String())
	twice(c, "ticks placed", placed.String())
	if m.Trip != nil {
		if s, ok := m.Trip.through(v.region); ok {
			twice(c, "trip", pathOf(v, s))
		}
	}
	if m.Second != nil {
		twice(c, "twin", pathOf(v, *m.Second))
	}
	if m.Front != nil {
		twice(c, "front", pathOf(v, *m.Front))
	}
}

// twice draws a path over its own darker casing, so that it shows on light and on dark.
func twice(c *svg.Canvas, class, d string) {
	if d != "" {
		c.Path("case "+class, d)
		c.Path("line "+class, d)
	}
}

func pathOf(v view, s segment) string {
	a, b := v.at(s.A), v.at(s.B)
	return "M" + svg.PX(a.X) + " " + svg.PX(a.Y) + "L" + svg.PX(b.X) + " " + svg.PX(b.Y)
}

// Upright tells whether the ruler stands upright in the picture.
func Upright(f calib.FrameResult) bool {
	d := f.Reading.Scale.Dir
	return math.Abs(d.Y) > math.Abs(d.X)
}
