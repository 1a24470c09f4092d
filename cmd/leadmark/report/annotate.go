package report

import (
	"encoding/base64"
	"fmt"
	"html"
	"math"
	"strings"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/vision/ruler"
)

const (
	annotatedSide = 1400.0 // units, the longer side of an annotated frame's picture
	annotatedText = 25.0   // units
	narrowest     = 760.0  // units, room for the words below
)

// annotatedSign marks the pictures that report wrote, so that it never writes over anyone else's.
const annotatedSign = "leadmark annotated frame"

// Annotate draws what was found in one frame over its clip, as SVG, and writes the reading below,
// as Write does for each frame of a run but without a trip line.
func Annotate(c ruler.Clip, f calib.FrameResult) []byte { return annotated(c, f, lineMark{}) }

// annotated is the picture of a frame with what was found drawn on it, and what it says written
// below. The marks keep clear of the graduations, beside the ruler.
func annotated(clip ruler.Clip, f calib.FrameResult, trip lineMark) []byte {
	v := viewOfClip(clip, annotatedSide)
	width := max(v.w, narrowest)
	c := &svg.Canvas{W: width, H: v.h, Font: annotatedText}
	c.Add(fmt.Sprintf(`<svg x="%s" width="%s" height="%s" viewBox="0 0 %s %[3]s">`, svg.PX((width-v.w)/2), svg.PX(v.w),
		svg.PX(v.h), svg.PX(v.w)))
	c.Add(fmt.Sprintf(`<image width="%s" height="%s" href="data:image/jpeg;base64,%s"/>`, svg.PX(v.w), svg.PX(v.h),
		base64.StdEncoding.EncodeToString(clip.JPEG)))
	drawMarks(c, v, f, trip)
	c.Add(`</svg>`)
	drawFoot(c, f, trip)
	var out strings.Builder
	fmt.Fprintf(&out, "<!-- %s -->\n", annotatedSign)
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" font-size="%s" font-family="system-ui, sans-serif">`, svg.PX(c.W), svg.PX(c.H), svg.PX(c.Font))
	fmt.Fprintf(&out, "<title>%s: %s</title>%s", html.EscapeString(f.Name),
		html.EscapeString(phrase.Typeset(summary.Verdict(f))), annotatedStyle)
	out.WriteString(c.Body() + "</svg>\n")
	return []byte(out.String())
}

// annotatedStyle has the colours of marks on pictures: of Okabe and Ito's colour-blind-safe set
// (2008), the green made lighter for thin strokes. The kinds also differ in shape: solid, dashed,
// comb. They are those of the page.
const annotatedStyle = `<style>.sheet{fill:#141c1f}text{fill:#f4f6f5}path{fill:none}
.case{stroke:#000;stroke-opacity:.6;stroke-width:5}.line{stroke-width:3}
.front.line,.twin.line{stroke:#e69f00}.twin{stroke-dasharray:6 8}.trip{stroke-dasharray:24 14}.trip.line{stroke:#56b4e9}.ticks.line{stroke:#5fe3b8;stroke-width:1.6}
.ticks.case{stroke-width:3.4}.placed{opacity:.5}.wedge{fill:#e69f00;stroke:#000;stroke-opacity:.6;stroke-width:2}
.tens{fill:#5fe3b8;stroke:#000;stroke-width:4;paint-order:stroke}</style>`

func drawMarks(c *svg.Canvas, v view, f calib.FrameResult, trip lineMark) {
	m := marksOn(f, trip, 16/v.k(), 3/v.k())
	strokes(c, v, m)
	for _, t := range m.Ticks {
		if t.Rank == 2 {
			labelTick(c, v, t, f.Reading.Unit)
		}
	}
	if m.Front != nil {
		pointAt(c, v, f)
	}
}

// pointAt draws a small wedge that points at the front end's place from beyond it.
func pointAt(c *svg.Canvas, v view, f calib.FrameResult) {
	at, ok := frontOf(f)
	dir := f.Reading.Scale.Dir.Unit()
	if !ok || dir.Len() == 0 {
		return
	}
	for g := range f.Reading.Graduations.All() {
		if d := dir.Dot(g.At.Sub(at)); math.Abs(d) > 3 { // px; the end's own graduation says nothing
			dir = dir.Mul(-math.Copysign(1, d)) // away from the ruler's body
			break
		}
	}
	tip := v.at(at).Add(dir.Mul(6))
	base, side := tip.Add(dir.Mul(22)), dir.Perp().Mul(9)
	a, b := base.Add(side), base.Sub(side)
	c.Path("wedge", svg.Polyline([]float64{tip.X, a.X, b.X}, []float64{tip.Y, a.Y, b.Y})+"Z")
}

// labelTick writes the reading of a whole centimetre or inch beside its tick.
func labelTick(c *svg.Canvas, v view, t tick, unit string) {
	s := phrase.Digits(t.Reading/phrase.MM.SI, 0)
	if unit == "inch" {
		s = phrase.Digits(t.Reading/25.4e-3, 0)
	}
	d := t.B.Sub(t.A).Unit()
	p := v.at(t.B).Add(d.Mul(8))
	anchor := "middle"
	if math.Abs(d.X) > 0.5 {
		anchor = map[bool]string{true: "start", false: "end"}[d.X > 0]
	}
	c.Text("tens", p.X, p.Y+annotatedText*(0.36+0.36*d.Y), anchor, s)
}

// drawFoot adds a foot with the name, the reading and what the marks mean.
func drawFoot(c *svg.Canvas, f calib.FrameResult, trip lineMark) {
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
func drawKey(c *svg.Canvas, f calib.FrameResult, trip lineMark, p ruler.Point) {
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
		comb := ""
		for x := p.X + 2; x < p.X+54; x += 9 {
			comb += svg.Polyline([]float64{x, x}, []float64{p.Y - 0.64*annotatedText, p.Y})
		}
		key("ticks", comb, "graduations")
	}
	if trip.line != nil {
		key("trip", stroke(), trip.name)
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
