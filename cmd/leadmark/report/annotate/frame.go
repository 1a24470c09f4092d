package annotate

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
	narrowest     = 760.0  // units, room for the words below
)

// Sign marks the pictures that report wrote, so that it never writes over anyone else's.
const Sign = "leadmark annotated frame"

// Frame is the picture of a frame as SVG: what was found drawn on its clip, and what it says
// written below. The marks keep clear of the graduations, beside the ruler. A frame that belongs to
// no run has no trip line.
func Frame(clip ruler.Clip, f calib.FrameResult, trip Trip) []byte {
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
	fmt.Fprintf(&out, "<!-- %s -->\n", Sign)
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" font-size="%s" `+
		`font-family="system-ui, sans-serif">`, svg.PX(c.W), svg.PX(c.H), svg.PX(c.Font))
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
.front.line,.twin.line{stroke:#e69f00}.twin{stroke-dasharray:6 8}` +
	`.trip{stroke-dasharray:24 14}.trip.line{stroke:#56b4e9}` +
	`.ticks.line{stroke:#5fe3b8;stroke-width:1.6}
.ticks.case{stroke-width:3.4}.placed{opacity:.5}.wedge{fill:#e69f00;stroke:#000;stroke-opacity:.6;stroke-width:2}
.tens{fill:#5fe3b8;stroke:#000;stroke-width:4;paint-order:stroke}</style>`

func drawMarks(c *svg.Canvas, v view, f calib.FrameResult, trip Trip) {
	m := marksOn(f, trip, 16/v.k(), 3/v.k())
	strokes(c, v, m)
	for _, t := range m.Graduations {
		if t.Rank == 2 {
			labelGraduation(c, v, t, f.Reading.Unit)
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

// labelGraduation writes the reading of a whole centimetre or inch beside its stroke.
func labelGraduation(c *svg.Canvas, v view, t graduation, unit string) {
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
