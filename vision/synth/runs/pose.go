package runs

import (
	"math"

	"leadmark/vision/ruler"
)

// Track is the path the ruler takes: it passes the trip point, fixed in space, along a straight line.
type Track struct {
	Trip   Vec     // the true trip point
	Travel string  // down, up, left or right, as formats.md
	Tilt   float64 // rad, of the travel against that axis of the picture
	Yaw    float64 // rad, of the travel out of the picture's plane (front end away from the camera)
	Roll   float64 // rad, of the ruler's nominal plane about the travel
}

// Pose is where the ruler is at the effective instant of the flash, and how it departs from the track.
type Pose struct {
	Advance float64 // m, of the front end past the true trip point, along the travel
	Lateral float64 // m, across the track
	Depth   float64 // m, away from the camera
	Tilt    float64 // rad, in the ruler's plane against the travel
	Yaw     float64 // rad, out of the plane
	Roll    float64 // rad, about the ruler's long axis
}

// basis is a right-handed frame: a along the ruler (readings grow), b across, n away from the camera.
type basis struct{ a, b, n Vec }

func (f basis) turned(tilt, yaw, roll float64) basis {
	f.a, f.b = f.a.turn(f.b, tilt)
	f.a, f.n = f.a.turn(f.n, yaw)
	f.b, f.n = f.b.turn(f.n, roll)
	return f
}

// heading returns the angle of a travel in the picture, from x towards y; an unknown word is "down".
func heading(travel string) float64 {
	switch travel {
	case "right":
		return 0
	case "up":
		return -math.Pi / 2
	case "left":
		return math.Pi
	}
	return math.Pi / 2
}

// basis returns the nominal frame of a ruler on the track; the travel is -a.
func (t Track) basis() basis {
	s, c := math.Sincos(heading(t.Travel))
	f := basis{a: Vec{-c, -s, 0}, b: Vec{s, -c, 0}, n: Vec{0, 0, 1}}
	return f.turned(t.Tilt, -t.Yaw, t.Roll)
}

// line returns the picture of the line across the track at advance s, at the ruler's nominal depth,
// half metres to each side of the track.
func (t Track) line(c Camera, s, half float64) ruler.Line {
	f := t.basis()
	p := t.Trip.sub(f.a.mul(s))
	return ruler.Line{A: c.Project(p.sub(f.b.mul(half))), B: c.Project(p.add(f.b.mul(half)))}
}

// placed is a ruler in space, with the map from rays to its face.
type placed struct {
	look  *Look
	front Vec // where the front end meets the long axis
	basis
	inv [9]float64 // (x, y, 1) -> (u - front, v, 1) times 1/depth
}

func place(c Camera, t Track, p Pose, look *Look) *placed {
	f := t.basis()
	front := t.Trip.sub(f.a.mul(p.Advance)).add(f.b.mul(p.Lateral)).add(f.n.mul(p.Depth))
	r := &placed{look: look, front: front, basis: f.turned(p.Tilt, p.Yaw, p.Roll)}
	r.inv = inverse(r.a, r.b, r.front)
	return r
}

// inverse returns the inverse of the matrix of columns a, b, c, by rows.
func inverse(a, b, c Vec) [9]float64 {
	d := 1 / a.dot(b.cross(c))
	r0, r1, r2 := b.cross(c).mul(d), c.cross(a).mul(d), a.cross(b).mul(d)
	return [9]float64{r0.X, r0.Y, r0.Z, r1.X, r1.Y, r1.Z, r2.X, r2.Y, r2.Z}
}

// face returns the place on the ruler that a ray meets, and the depth of that place.
func (r *placed) face(x, y float64) (u, v, depth float64) {
	m := &r.inv
	k := m[6]*x + m[7]*y + m[8]
	u = (m[0]*x+m[1]*y+m[2])/k + r.look.Front()
	v = (m[3]*x + m[4]*y + m[5]) / k
	return u, v, 1 / k
}

// point returns the point of space at a place on the ruler's face.
func (r *placed) point(u, v float64) Vec {
	return r.front.add(r.a.mul(u - r.look.Front())).add(r.b.mul(v))
}
