package collage

import (
	"image"
	"math"

	"leadmark/vision/synth/camera"
	"leadmark/vision/synth/plane"
)

// Scene is a ruler on its track in one frame.
type Scene struct {
	W, H    int
	Travel  string
	Camera  camera.Camera
	Seed    uint64
	Advance float64 // mm along the track from where the scene was posed
	ruler   *Ruler
	pose    plane.Map // flat mm to px, at an advance of 0
	forward float64   // +1: the front end lies at the right end of the flat ruler
	front   bool      // there is one in view, or may be
	ground  ground
	motion  float64 // mm
	level   float64
	fall    [2]float64
	shadow  float64 // share of the light that it takes
	aside   [2]float64
}

// Moved is the scene with the ruler so many mm further along its track.
func (s Scene) Moved(mm float64) Scene {
	s.Advance += mm
	return s
}

// toFrame maps flat mm to px.
func (s *Scene) toFrame() plane.Map {
	d := s.forward * s.Advance
	return plane.Map{1, 0, d, 0, 1, 0, 0, 0, 1}.Then(s.pose)
}

// Draw draws the frame.
func (s *Scene) Draw() *image.RGBA {
	l := camera.NewLight(s.W, s.H)
	in := s.toFrame().Inverse()
	for y := range s.H {
		for x := range s.W {
			c := s.colour(in, float64(x), float64(y))
			light := s.light(float64(x), float64(y))
			for k := range c {
				l.C[k][y*s.W+x] = c[k] * float32(light)
			}
		}
	}
	return s.Camera.Take(l, s.Seed+uint64(math.Float64bits(s.Advance)))
}

// light is what falls on a place of the frame.
func (s *Scene) light(x, y float64) float64 {
	return s.level * max(0.1, 1+s.fall[0]*(x/float64(s.W)-0.5)+s.fall[1]*(y/float64(s.H)-0.5))
}

// colour is what is seen at a place, under a light of 1.
func (s *Scene) colour(in plane.Map, x, y float64) [3]float32 {
	c, r := s.ground.at(x, y), s.ruler
	flat := in.At(plane.Point{X: x, Y: y})
	if reach := s.motion + 10; flat.X < min(r.left, r.right)-reach || flat.X > max(r.left, r.right)+reach {
		return c
	}
	step, _ := in.Slope(plane.Point{X: x, Y: y})
	unit := step.Len() // mm a px
	along, across := r.back.Slope(flat)
	q, k := r.back.At(flat), along.Len()*unit // px of the photograph in one of the frame
	if s.shadow > 0 {
		if a := r.inside(q.Sub(along.Mul(s.aside[0])).Sub(across.Mul(s.aside[1])), k, 8); a > 0 {
			for n := range c {
				c[n] *= float32(1 - s.shadow*a)
			}
		}
	}
	taps := 1
	if s.motion > 0 {
		taps = min(9, 1+int(2*s.motion/unit))
	}
	var body [3]float32
	cover := 0.0
	for t := range taps {
		p := q.Add(along.Mul(s.motion * ((float64(t)+0.5)/float64(taps) - 0.5)))
		a := r.inside(p, k, 1) / float64(taps)
		if a == 0 {
			continue
		}
		cover += a
		v := r.photo.at(p.X, p.Y, k)
		for n := range body {
			body[n] += v[n] * float32(a)
		}
	}
	for n := range c {
		c[n] = body[n] + float32(1-cover)*c[n]
	}
	return c
}

// inside is how much of a window about a place of the photograph lies in the outline; the window is
// so wide in px of the frame, each of which is k of the photograph.
func (r *Ruler) inside(q plane.Point, k, wide float64) float64 {
	a := 1.0
	var d [4]float64 // px of the frame inside the upper, right, lower and left side
	for i := range d {
		d[i] = r.sides[i].at(q) / k
		if a *= min(1, max(0, 0.5+d[i]/wide)); a == 0 {
			return 0
		}
	}
	if c := r.outline.corner / k; c > 0 {
		if x, y := min(d[1], d[3]), min(d[0], d[2]); x < c && y < c {
			a *= min(1, max(0, 0.5+(c-math.Hypot(c-x, c-y))/wide))
		}
	}
	return a
}
