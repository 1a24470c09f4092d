package photo

import (
	"image"
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/paint"
)

// ghostOf returns a layer a quarter as large and smeared along way (px), a fifth of it before and
// the rest after the flash: what a lasting light records of a ruler that moves on.
func ghostOf(l *paint.Layer, way ruler.Point) *paint.Layer {
	r := image.Rect(floorDiv(l.Rect.Min.X), floorDiv(l.Rect.Min.Y), floorDiv(l.Rect.Max.X-1)+1,
		floorDiv(l.Rect.Max.Y-1)+1)
	sx, sy := int(math.Abs(way.X)/coarse)+2, int(math.Abs(way.Y)/coarse)+2
	out := paint.NewLayer(image.Rect(r.Min.X-sx, r.Min.Y-sy, r.Max.X+sx, r.Max.Y+sy))
	for y := l.Rect.Min.Y; y < l.Rect.Max.Y; y++ {
		in, to := l.Row(y), out.Row(floorDiv(y))
		for x := l.Rect.Min.X; x < l.Rect.Max.X; x++ {
			o := to[4*(floorDiv(x)-out.Rect.Min.X):][:4]
			for c, v := range in[4*(x-l.Rect.Min.X):][:4] {
				o[c] += v / (coarse * coarse)
			}
		}
	}
	n := int(way.Len()/coarse) + 2
	path := make([]ruler.Point, n)
	for i := range path {
		path[i] = way.Mul((float64(i)/float64(n-1) - 0.2) / coarse)
	}
	out.Convolve(paint.Splat(path))
	return out
}

func floorDiv(x int) int {
	if x < 0 {
		return -((-x + coarse - 1) / coarse)
	}
	return x / coarse
}

// coarse is how many pixels of the picture one pixel of a ghost spans.
const coarse = 4
