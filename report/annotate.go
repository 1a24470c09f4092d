package report

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strings"

	"golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"

	"leadmark/calib"
	"leadmark/ruler"
)

const (
	annotatedSide = 1600 // px, long side of an annotated frame's picture
	annotatedText = 27   // px

	annotatedQuality = 88
)

var (
	footColour = color.RGBA{0x14, 0x1C, 0x1F, 0xFF}
	paper      = color.RGBA{0xF4, 0xF6, 0xF5, 0xFF}
)

// Annotate draws what was found in one frame on the part of its picture that holds the ruler, and
// writes the reading below, as Write does for each frame of a run but without a trip line. src is the
// picture as displayed, whole, at any size. It returns JPEG with a comment segment by which Write
// and Replace know it for a file of ours.
func Annotate(src image.Image, f calib.FrameResult) ([]byte, error) {
	m, err := annotated(src, f, lineMark{})
	if err != nil {
		return nil, err
	}
	return encodeJPEG(m, annotatedQuality)
}

// SideWanted is how long the long side of the picture that Annotate is given should be, px: longer shows
// no more.
func SideWanted(f calib.FrameResult) int { return sideWanted(f, lineMark{}) }

// annotated is a large picture of the ruler part of a frame with what was found drawn on it, and
// what it says written below. The marks keep clear of the graduations, beside the ruler.
func annotated(src image.Image, f calib.FrameResult, trip lineMark) (*image.RGBA, error) {
	face, err := newFace(annotatedText)
	if err != nil {
		return nil, err
	}
	defer face.Close()
	width := frameWidth(f, src)
	b, ok := rulerBox(f, trip)
	if !ok {
		b = wholeBox(f, src)
	}
	v := cut(src, width, b.shaped(clampAspect(b.w()/b.h()), width, frameHeight(f, src)), annotatedSide)
	drawMarks(v, face, f, trip)
	return withFoot(v.img, face, f, trip), nil
}

func newFace(size float64) (font.Face, error) {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("reading the built-in type face: %w", err)
	}
	return opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
}

// clampAspect keeps a picture from becoming a sliver.
func clampAspect(a float64) float64 { return min(max(a, 0.5), 2) }

func frameWidth(f calib.FrameResult, src image.Image) int {
	if f.Width > 0 {
		return f.Width
	}
	return src.Bounds().Dx()
}

func frameHeight(f calib.FrameResult, src image.Image) int {
	if f.Height > 0 {
		return f.Height
	}
	return src.Bounds().Dy()
}

func wholeBox(f calib.FrameResult, src image.Image) box {
	return box{-0.5, -0.5, float64(frameWidth(f, src)) - 0.5, float64(frameHeight(f, src)) - 0.5}
}

func drawMarks(v view, face font.Face, f calib.FrameResult, trip lineMark) {
	m := marksOn(f, trip, 16/v.k(), 3/v.k())
	for _, t := range m.Ticks {
		w := 1.5
		if !t.Seen {
			w = 0.8
		}
		cased(v, tickColour, w, t.segment, stroke)
		if t.Rank == 2 {
			labelTick(v, face, t, f.Reading.Unit)
		}
	}
	if m.Trip != nil {
		if s, ok := m.Trip.through(v.region); ok {
			cased(v, tripColour, 3, s, dashes)
		}
	}
	if m.Front != nil {
		cased(v, frontColour, 3, *m.Front, stroke)
		pointAt(v, f, *m.Front)
	}
}

type pen func(dst *image.RGBA, c color.RGBA, width float64, a, b ruler.Point)

// cased draws a stroke over a darker, wider one, so that it shows on light and on dark.
func cased(v view, c color.RGBA, width float64, s segment, p pen) {
	a, b := v.at(s.A), v.at(s.B)
	stroke(v.img, color.RGBA{0, 0, 0, 0x90}, width+2, a, b)
	p(v.img, c, width, a, b)
}

// pointAt draws a small wedge that points at the front end's place from beyond it.
func pointAt(v view, f calib.FrameResult, front segment) {
	at, ok := frontOf(f)
	dir := f.Reading.Scale.Dir.Unit()
	if !ok || dir.Len() == 0 {
		return
	}
	for _, g := range f.Reading.Graduations {
		if d := dir.Dot(g.At.Sub(at)); math.Abs(d) > 3 { // px; the end's own graduation says nothing
			dir = dir.Mul(-math.Copysign(1, d)) // away from the ruler's body
			break
		}
	}
	tip, side := v.at(at).Add(dir.Mul(6)), dir.Perp().Mul(9)
	base := tip.Add(dir.Mul(22))
	fill(v.img, casing, tip.Sub(dir.Mul(3)), base.Add(side.Mul(1.4)).Add(dir.Mul(2)), base.Sub(side.Mul(1.4)).Add(dir.Mul(2)))
	fill(v.img, frontColour, tip, base.Add(side), base.Sub(side))
}

// labelTick writes the reading of a whole centimetre or inch beside its tick.
func labelTick(v view, face font.Face, t tick, unit string) {
	s := digits(t.Reading/mm.si, 0)
	if unit == "inch" {
		s = digits(t.Reading/25.4e-3, 0)
	}
	d := t.B.Sub(t.A).Unit()
	w := float64(font.MeasureString(face, s)) / 64
	p := v.at(t.B).Add(d.Mul(8)).Add(ruler.Point{X: (d.X - 1) / 2 * w, Y: annotatedText * (0.36 + 0.36*d.Y)})
	for _, o := range []ruler.Point{{X: -1.5}, {X: 1.5}, {Y: -1.5}, {Y: 1.5}} {
		write(v.img, face, color.RGBA{0, 0, 0, 0xFF}, p.Add(o), s)
	}
	write(v.img, face, tickColour, p, s)
}

// withFoot adds a foot with the name, the reading and what the marks mean.
func withFoot(m *image.RGBA, face font.Face, f calib.FrameResult, trip lineMark) *image.RGBA {
	const line, pad = 1.45 * annotatedText, 22
	width := max(m.Rect.Dx(), 760)
	lines := wrap(face, f.Name, width-2*pad)
	lines = append(lines, wrap(face, verdict(f), width-2*pad)...)
	height := int(line*float64(len(lines)+1)) + 2*pad - 8
	out := image.NewRGBA(image.Rect(0, 0, width, m.Rect.Dy()+height))
	draw.Draw(out, out.Rect, image.NewUniform(footColour), image.Point{}, draw.Src)
	draw.Draw(out, m.Rect.Add(image.Pt((width-m.Rect.Dx())/2, 0)), m, image.Point{}, draw.Src)
	y := float64(m.Rect.Dy()) + pad + 0.8*annotatedText
	for _, s := range lines {
		write(out, face, paper, ruler.Point{X: pad, Y: y}, s)
		y += line
	}
	drawKey(out, face, f, trip, ruler.Point{X: pad, Y: y})
	return out
}

// drawKey explains the marks that are on this picture.
func drawKey(out *image.RGBA, face font.Face, f calib.FrameResult, trip lineMark, p ruler.Point) {
	key := func(c color.RGBA, draw pen, text string) {
		y := p.Y - 0.32*annotatedText
		draw(out, c, 4, ruler.Point{X: p.X, Y: y}, ruler.Point{X: p.X + 54, Y: y})
		p.X += 66
		p.X += write(out, face, paper, p, text) + 34
	}
	if f.Status == ruler.StatusRead {
		key(frontColour, stroke, "front end")
		key(tickColour, comb, "graduations")
	}
	if trip.line != nil {
		key(tripColour, dashes, trip.name)
	}
}

// comb is the sign for graduations.
func comb(dst *image.RGBA, c color.RGBA, width float64, a, b ruler.Point) {
	for x := a.X + 2; x < b.X; x += 9 {
		stroke(dst, c, width/2, ruler.Point{X: x, Y: a.Y - 8}, ruler.Point{X: x, Y: a.Y + 8})
	}
}

// verdict says what one frame came to.
func verdict(f calib.FrameResult) string {
	switch f.Status {
	case ruler.StatusRead:
		if f.U == 0 {
			return seen(f.Reading)
		}
		return "advance " + mm.plusMinus(f.Advance, 2*f.U) + " (reading alone, 95 %)"
	case ruler.StatusRefused:
		return "refused: " + f.Reason.Text
	}
	return "left out: " + f.Reason.Text
}

// seen says what a reading that belongs to no run shows: without a trip place it has no advance.
func seen(r ruler.Reading) string {
	s := count(len(r.Graduations), "graduation") + " of " + mm.stated(r.Graduation)
	if r.Front == nil {
		return s + "; the front end is not in the picture"
	}
	return s + "; front end at " + fmt.Sprintf("%.1f, %.1f px", r.Front.At.X, r.Front.At.Y)
}

// wrap breaks s into lines that fit, at spaces where there are any.
func wrap(face font.Face, s string, width int) []string {
	fits := func(s string) bool { return font.MeasureString(face, s).Ceil() <= width }
	var lines []string
	for _, word := range strings.Fields(s) {
		if n := len(lines); n > 0 && fits(lines[n-1]+" "+word) {
			lines[n-1] += " " + word
			continue
		}
		for !fits(word) && len([]rune(word)) > 1 {
			q := []rune(word)
			k := len(q)
			for k > 1 && !fits(string(q[:k])) {
				k--
			}
			lines, word = append(lines, string(q[:k])), string(q[k:])
		}
		lines = append(lines, word)
	}
	return lines
}
