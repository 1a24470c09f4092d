package photo

import (
	"image"
	"math"

	"leadmark/vision/ruler"
)

// Vec is a point or direction in the camera's space, metres: x right, y down, z away.
type Vec struct{ X, Y, Z float64 }

// Add is a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub is a - b.
func (a Vec) Sub(b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Mul is k a.
func (a Vec) Mul(k float64) Vec { return Vec{k * a.X, k * a.Y, k * a.Z} }
func (a Vec) dot(b Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }
func (a Vec) length() float64   { return math.Sqrt(a.dot(a)) }

// Unit is a scaled to length 1.
func (a Vec) Unit() Vec       { return a.Mul(1 / a.length()) }
func (a Vec) cross(b Vec) Vec { return Vec{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X} }
func (a Vec) turn(b Vec, t float64) (Vec, Vec) {
	s, c := math.Sincos(t)
	return a.Mul(c).Add(b.Mul(s)), b.Mul(c).Sub(a.Mul(s))
}

// Camera is a pinhole camera with one coefficient of radial distortion.
type Camera struct {
	Width, Height int         // px, of the picture as displayed
	FocalPX       float64     // image distance in pixels
	Centre        ruler.Point // principal point, px
	Zoom          float64     // of the backdrop's texture, relative, about the principal point
	K1            float64     // distorted radius = r (1 + K1 r^2), r in units of FocalPX
}

// Project returns where a point of space lies in the picture.
func (c Camera) Project(p Vec) ruler.Point {
	x, y := p.X/p.Z, p.Y/p.Z
	k := 1 + c.K1*(x*x+y*y)
	return ruler.Point{X: c.Centre.X + c.FocalPX*k*x, Y: c.Centre.Y + c.FocalPX*k*y}
}

// faces reports whether a point lies where Project means anything: before the camera, and not so
// far aside that the distortion's polynomial, which holds for the picture only, turns back and
// folds it into the picture.
func (c Camera) faces(p Vec) bool {
	x, y := p.X/p.Z, p.Y/p.Z
	return p.Z > 0 && 1+3*c.K1*(x*x+y*y) > 0
}

// ray returns the direction (x, y, 1) seen at a place of the picture.
func (c Camera) ray(px, py float64) (x, y float64) {
	xd, yd := (px-c.Centre.X)/c.FocalPX, (py-c.Centre.Y)/c.FocalPX
	x, y = xd, yd
	if c.K1 == 0 {
		return x, y
	}
	// Fixed-point inversion; each step shrinks the error by about 2 K1 r^2, a few per cent at most.
	for range 8 {
		k := 1 / (1 + c.K1*(x*x+y*y))
		nx, ny := xd*k, yd*k
		done := math.Abs(nx-x)+math.Abs(ny-y) < 1e-11
		if x, y = nx, ny; done {
			break
		}
	}
	return x, y
}

// At returns the point of space seen at a place of the picture in depth z.
func (c Camera) At(p ruler.Point, z float64) Vec {
	x, y := c.ray(p.X, p.Y)
	return Vec{x * z, y * z, z}
}

// inside reports whether a place lies in the picture, at least margin pixels from its border.
func (c Camera) inside(p ruler.Point, margin float64) bool {
	return p.X >= margin-0.5 && p.Y >= margin-0.5 &&
		p.X <= float64(c.Width)-0.5-margin && p.Y <= float64(c.Height)-0.5-margin
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

const mm = 1e-3 // m
