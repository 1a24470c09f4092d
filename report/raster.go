package report

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"leadmark/ruler"
)

// The colours of marks on pictures: of Okabe and Ito's colour-blind-safe set (2008), the green
// made lighter for thin strokes. The kinds also differ in shape: solid, dashed, comb.
var (
	frontColour = color.RGBA{0xE6, 0x9F, 0x00, 0xFF}
	tripColour  = color.RGBA{0x56, 0xB4, 0xE9, 0xFF}
	tickColour  = color.RGBA{0x5F, 0xE3, 0xB8, 0xFF}
	casing      = color.RGBA{0, 0, 0, 0xC0}
)

// fill paints a polygon. Only the box about it is rasterised: a picture carries hundreds of
// small strokes.
func fill(dst *image.RGBA, c color.RGBA, pts ...ruler.Point) {
	box := bounds(pts).Intersect(dst.Rect)
	if box.Empty() {
		return
	}
	z := vector.NewRasterizer(box.Dx(), box.Dy())
	for i, p := range pts {
		x, y := float32(p.X)-float32(box.Min.X), float32(p.Y)-float32(box.Min.Y)
		if i == 0 {
			z.MoveTo(x, y)
		} else {
			z.LineTo(x, y)
		}
	}
	z.ClosePath()
	z.Draw(dst, box, image.NewUniform(premultiplied(c)), image.Point{})
}

// bounds is the smallest box of whole pixels that holds the points.
func bounds(pts []ruler.Point) image.Rectangle {
	lo := ruler.Point{X: math.Inf(1), Y: math.Inf(1)}
	hi := ruler.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range pts {
		lo = ruler.Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
		hi = ruler.Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	const far = 1 << 20 // bounds the conversion where a mark lies far outside
	clamp := func(x float64) int { return int(max(-far, min(far, x))) }
	return image.Rect(clamp(math.Floor(lo.X)), clamp(math.Floor(lo.Y)), clamp(math.Ceil(hi.X)), clamp(math.Ceil(hi.Y)))
}

func premultiplied(c color.RGBA) color.Color {
	return color.NRGBA(c)
}

// stroke draws a straight line of a width.
func stroke(dst *image.RGBA, c color.RGBA, width float64, a, b ruler.Point) {
	n := b.Sub(a).Unit().Perp().Mul(width / 2)
	fill(dst, c, a.Add(n), b.Add(n), b.Sub(n), a.Sub(n))
}

// dashes draws a line of dashes.
func dashes(dst *image.RGBA, c color.RGBA, width float64, a, b ruler.Point) {
	const on, period = 9, 15 // widths
	d := b.Sub(a).Unit()
	for t := 0.0; t < b.Sub(a).Len(); t += period * width {
		stroke(dst, c, width, a.Add(d.Mul(t)), a.Add(d.Mul(min(t+on*width, b.Sub(a).Len()))))
	}
}

// write puts text on the picture, its baseline starting at p, and returns its width.
func write(dst *image.RGBA, face font.Face, c color.RGBA, p ruler.Point, s string) float64 {
	d := font.Drawer{Dst: dst, Src: image.NewUniform(c), Face: face,
		Dot: fixed.Point26_6{X: fixed.Int26_6(p.X * 64), Y: fixed.Int26_6(p.Y * 64)}}
	start := d.Dot.X
	d.DrawString(s)
	return float64(d.Dot.X-start) / 64
}

// jpegComment marks the pictures that report wrote, so that it never writes over anyone else's.
const jpegComment = "leadmark annotated frame"

// encodeJPEG encodes with a comment segment (ITU-T T.81, B.2.4.5) right after the start of image.
func encodeJPEG(m image.Image, quality int) ([]byte, error) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality}); err != nil {
		return nil, err
	}
	n := len(jpegComment) + 2
	out := append([]byte{0xFF, 0xD8, 0xFF, 0xFE, byte(n >> 8), byte(n)}, jpegComment...)
	return append(out, b.Bytes()[2:]...), nil
}
