package runs

import (
	"image"

	"leadmark/vision/ruler"
)

// layer is a part of a picture in linear light, red, green, blue and coverage, the colours already
// multiplied by the coverage.
type layer struct {
	rect image.Rectangle
	pix  []float32
}

func newLayer(r image.Rectangle) *layer {
	return &layer{rect: r, pix: make([]float32, 4*r.Dx()*r.Dy())}
}

// row returns the pixels of one line of the picture, or nil where the layer has none.
func (l *layer) row(y int) []float32 {
	if l == nil || y < l.rect.Min.Y || y >= l.rect.Max.Y {
		return nil
	}
	n := 4 * l.rect.Dx()
	return l.pix[(y-l.rect.Min.Y)*n:][:n]
}

// coverage returns how much of a pixel the layer hides.
func (l *layer) coverage(p ruler.Point) float64 {
	if l == nil {
		return 0
	}
	x, y := int(p.X+0.5), int(p.Y+0.5)
	if !(image.Point{X: x, Y: y}.In(l.rect)) {
		return 0
	}
	return float64(l.pix[4*((y-l.rect.Min.Y)*l.rect.Dx()+x-l.rect.Min.X)+3])
}

// bounds returns the pixels around some places, with a margin, cut to the camera's picture enlarged
// by spill.
func bounds(c Camera, ps []ruler.Point, margin, spill int) image.Rectangle {
	r := image.Rectangle{Min: image.Point{X: 1 << 30, Y: 1 << 30}, Max: image.Point{X: -1 << 30, Y: -1 << 30}}
	for _, p := range ps {
		x, y := int(max(-1e8, min(1e8, p.X))), int(max(-1e8, min(1e8, p.Y)))
		r.Min.X, r.Min.Y = min(r.Min.X, x-margin), min(r.Min.Y, y-margin)
		r.Max.X, r.Max.Y = max(r.Max.X, x+margin+1), max(r.Max.Y, y+margin+1)
	}
	return r.Intersect(image.Rect(-spill, -spill, c.Width+spill, c.Height+spill))
}
