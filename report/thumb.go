package report

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html/template"
	"image"
	"image/jpeg"
	"math"
	"strings"

	"leadmark/calib"
)

const (
	thumbSide  = 720     // px, long side of a thumbnail
	shownSide  = 430     // px, about how long it is shown
	mostCards  = 200     // frames with their pictures on one page; of a longer run they get pages of their own
	pageBudget = 9 << 20 // bytes of JPEG in one page
)

// thumbBudget is how many bytes one thumbnail may take.
func thumbBudget(frames int) int { return min(60_000, max(15_000, pageBudget/max(frames, 1))) }

// thumb is a small picture for the page, with the marks as strokes of their own over it.
type thumb struct {
	URL     template.URL
	W, H    int
	Overlay template.HTML
}

// sideWanted is how large a frame's picture must be asked for.
func sideWanted(f calib.FrameResult, trip lineMark) int {
	long := float64(max(f.Width, f.Height))
	want := float64(annotatedSide)
	if b, ok := rulerBox(f, trip); ok && long > 0 {
		want = annotatedSide * long / max(b.w(), b.h())
	}
	if b, ok := reachBox(f, trip); ok && long > 0 {
		want = max(want, thumbSide*long/max(b.w(), b.h()))
	}
	if long > 0 {
		want = min(want, long)
	}
	return int(math.Ceil(want))
}

// makeThumb shows the part of a frame that its reading rests on; a frame that was not read whole.
func makeThumb(src image.Image, f calib.FrameResult, trip lineMark, budget int) (*thumb, error) {
	width, height := frameWidth(f, src), frameHeight(f, src)
	b, ok := reachBox(f, trip)
	if ok {
		b = b.shaped(thumbAspect(f), width, height)
	} else {
		b = wholeBox(f, src)
	}
	v := cut(src, width, b, thumbSide)
	data, err := smallJPEG(v.img, budget)
	if err != nil {
		return nil, fmt.Errorf("drawing a thumbnail of %s: %w", f.Name, err)
	}
	return &thumb{
		URL: template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(data)),
		W:   v.img.Rect.Dx(), H: v.img.Rect.Dy(), Overlay: template.HTML(overlay(v, f, trip)),
	}, nil
}

// thumbAspect is upright where the ruler stands upright in the picture.
func thumbAspect(f calib.FrameResult) float64 {
	d := f.Reading.Scale.Dir
	if math.Abs(d.Y) > math.Abs(d.X) {
		return 0.72
	}
	return 1.5
}

// smallJPEG lowers the quality until the picture fits the budget; the last step is taken as it is.
func smallJPEG(m image.Image, budget int) ([]byte, error) {
	var b bytes.Buffer
	for _, q := range []int{84, 76, 66, 54, 42, 30} {
		b.Reset()
		if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: q}); err != nil {
			return nil, err
		}
		if b.Len() <= budget {
			break
		}
	}
	return b.Bytes(), nil
}

// overlay draws the marks as an SVG of the thumbnail's own size.
func overlay(v view, f calib.FrameResult, trip lineMark) string {
	long := float64(max(v.img.Rect.Dx(), v.img.Rect.Dy()))
	shown := long / shownSide // pixels of the thumbnail for one on the screen
	m := marksOn(f, trip, 9*shown/v.k(), 2.6*shown/v.k())
	c := &canvas{w: float64(v.img.Rect.Dx()), h: float64(v.img.Rect.Dy())}
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
	if m.Front != nil {
		c.twice("front", pathOf(v, *m.Front))
	}
	if c.b.Len() == 0 {
		return ""
	}
	return fmt.Sprintf(`<svg class="over" viewBox="0 0 %s %s" aria-hidden="true">%s</svg>`, px(c.w), px(c.h), c.b.String())
}

// twice draws a path over its own darker casing.
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
