package collage

import (
	"math"

	"leadmark/vision/synth/plane"
)

// ground is a part of a photograph, mirrored over and over, as seen in a frame.
type ground struct {
	photo *photograph
	part  part
	to    plane.Map // px of the frame to px of the part
	scale float64   // px of the photograph in one of the frame
	light float64
}

func (g *ground) at(x, y float64) (c [3]float32) {
	q := g.to.At(plane.Point{X: x, Y: y})
	w, h := float64(g.photo.w), float64(g.photo.h)
	px := g.part.x0*w + mirrored(q.X, (g.part.x1-g.part.x0)*w)
	py := g.part.y0*h + mirrored(q.Y, (g.part.y1-g.part.y0)*h)
	c = g.photo.at(px, py, g.scale)
	for k := range c {
		c[k] *= float32(g.light)
	}
	return c
}

// mirrored runs to and fro between 0 and long.
func mirrored(v, long float64) float64 {
	v = math.Mod(math.Abs(v), 2*long)
	if v > long {
		v = 2*long - v
	}
	return v
}
