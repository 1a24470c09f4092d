package paint

import (
	"image"

	"leadmark/vision/ruler"
)

// Layer is a part of a picture in linear light, red, green, blue and coverage, the colours already
// multiplied by the coverage.
type Layer struct {
	Rect image.Rectangle
	pix  []float32
}

// NewLayer is an empty one over the pixels of r.
func NewLayer(r image.Rectangle) *Layer {
	return &Layer{Rect: r, pix: make([]float32, 4*r.Dx()*r.Dy())}
}

// Row returns the pixels of one line of the picture, or nil where the layer has none.
func (l *Layer) Row(y int) []float32 {
	if l == nil || y < l.Rect.Min.Y || y >= l.Rect.Max.Y {
		return nil
	}
	n := 4 * l.Rect.Dx()
	return l.pix[(y-l.Rect.Min.Y)*n:][:n]
}

// Coverage returns how much of a pixel the layer hides.
func (l *Layer) Coverage(p ruler.Point) float64 {
	if l == nil {
		return 0
	}
	x, y := int(p.X+0.5), int(p.Y+0.5)
	if !(image.Point{X: x, Y: y}.In(l.Rect)) {
		return 0
	}
	return float64(l.pix[4*((y-l.Rect.Min.Y)*l.Rect.Dx()+x-l.Rect.Min.X)+3])
}
