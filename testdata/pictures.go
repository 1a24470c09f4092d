package testdata

import (
	"image"
	"math"

	"leadmark/vision/synth/plane"
)

// Green is a picture's green at a place, between pixels by proportion.
func Green(im *image.RGBA, p plane.Point) float64 {
	x, y := math.Floor(p.X), math.Floor(p.Y)
	at := func(i, k float64) float64 { return float64(im.Pix[im.PixOffset(int(i), int(k))+1]) }
	a := at(x, y) + (p.X-x)*(at(x+1, y)-at(x, y))
	b := at(x, y+1) + (p.X-x)*(at(x+1, y+1)-at(x, y+1))
	return a + (p.Y-y)*(b-a)
}
