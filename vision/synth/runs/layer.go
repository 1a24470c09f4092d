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
