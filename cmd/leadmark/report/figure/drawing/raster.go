package drawing

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"leadmark/vision/ruler"
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

// write puts text on the picture, its baseline starting at p, and returns its width.
func write(dst *image.RGBA, face font.Face, c color.RGBA, p ruler.Point, s string) float64 {
	d := font.Drawer{Dst: dst, Src: image.NewUniform(c), Face: face,
		Dot: fixed.Point26_6{X: fixed.Int26_6(p.X * 64), Y: fixed.Int26_6(p.Y * 64)}}
	start := d.Dot.X
	d.DrawString(s)
	return float64(d.Dot.X-start) / 64
}

// newFace is the built-in type face at a size, px.
func newFace(size float64) (font.Face, error) {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("reading the built-in type face: %w", err)
	}
	return opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
}
