package report

import (
	"encoding/base64"
	"fmt"
	"html/template"
	"math"
	"strings"

	"leadmark/calib"
	"leadmark/vision/ruler"
)

const (
	shownSide = 430.0 // px, about how long a thumbnail's longer side is shown
	mostCards = 200   // frames with their pictures on one page; of a longer run they get pages of their own
)

// thumb is a small picture for the page, with the marks as strokes of their own over it.
type thumb struct {
	URL     template.URL
	W, H    int
	Overlay template.HTML
}

// makeThumb shows a frame's small clip.
func makeThumb(c ruler.Clip, f calib.FrameResult, trip lineMark) *thumb {
	return &thumb{
		URL: template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(c.JPEG)),
		W:   c.Width, H: c.Height, Overlay: template.HTML(overlay(viewOfClip(c, shownSide), f, trip)),
	}
}

// overlay draws the marks as an SVG of the thumbnail's own shape.
func overlay(v view, f calib.FrameResult, trip lineMark) string {
	c := &canvas{w: v.w, h: v.h}
	c.strokes(v, marksOn(f, trip, 9/v.k(), 2.6/v.k()))
	if c.b.Len() == 0 {
		return ""
	}
	return fmt.Sprintf(`<svg class="over" viewBox="0 0 %s %s" aria-hidden="true">%s</svg>`, px(c.w), px(c.h),
		c.b.String())
}

// strokes draws the graduations, the trip line and the front end.
func (c *canvas) strokes(v view, m found) {
	var seen, placed strings.Builder
	for _, t := range m.Ticks {
		b := &seen
		if !t.Seen {
			b = &placed
		}
		b.WriteString(pathOf(v, t.segment))
	}
	c.twice("ticks", seen.String())
	c.twice("ticks placed", placed.String())
	if m.Trip != nil {
		if s, ok := m.Trip.through(v.region); ok {
			c.twice("trip", pathOf(v, s))
		}
	}
	if m.Twin != nil {
		c.twice("twin", pathOf(v, *m.Twin))
	}
	if m.Front != nil {
		c.twice("front", pathOf(v, *m.Front))
	}
}

// twice draws a path over its own darker casing, so that it shows on light and on dark.
func (c *canvas) twice(class, d string) {
	if d != "" {
		c.path("case "+class, d)
		c.path("line "+class, d)
	}
}

func pathOf(v view, s segment) string {
	a, b := v.at(s.A), v.at(s.B)
	return "M" + px(a.X) + " " + px(a.Y) + "L" + px(b.X) + " " + px(b.Y)
}

// standsUpright tells whether the ruler stands upright in the picture.
func standsUpright(f calib.FrameResult) bool {
	d := f.Reading.Scale.Dir
	return math.Abs(d.Y) > math.Abs(d.X)
}
