package photo

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/synth/looks"
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

// Basis is a right-handed frame: a along the ruler (readings grow), b across, n away from the camera.
type Basis struct{ A, B, N Vec }

func (f Basis) turned(tilt, yaw, roll float64) Basis {
	f.A, f.B = f.A.turn(f.B, tilt)
	f.A, f.N = f.A.turn(f.N, yaw)
	f.B, f.N = f.B.turn(f.N, roll)
	return f
}

// Heading returns the angle of a travel in the picture, from x towards y; an unknown word is "down".
func Heading(travel string) float64 {
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

// Basis returns the nominal frame of a ruler on the track; the travel is -a.
func (t Track) Basis() Basis {
	s, c := math.Sincos(Heading(t.Travel))
	f := Basis{A: Vec{-c, -s, 0}, B: Vec{s, -c, 0}, N: Vec{0, 0, 1}}
	return f.turned(t.Tilt, -t.Yaw, t.Roll)
}

// Line returns the picture of the line across the track at advance s, at the ruler's nominal depth,
// half metres to each side of the track.
func (t Track) Line(c Camera, s, half float64) ruler.Line {
	f := t.Basis()
	p := t.Trip.Sub(f.A.Mul(s))
	return ruler.Line{A: c.Project(p.Sub(f.B.Mul(half))), B: c.Project(p.Add(f.B.Mul(half)))}
}

// placed is a ruler in space, with the map from rays to its face.
type placed struct {
	look  *looks.Look
	front Vec // where the front end meets the long axis
	Basis
	inv [9]float64 // (x, y, 1) -> (u - front, v, 1) times 1/depth
}

func place(c Camera, t Track, p Pose, look *looks.Look) *placed {
	f := t.Basis()
	front := t.Trip.Sub(f.A.Mul(p.Advance)).Add(f.B.Mul(p.Lateral)).Add(f.N.Mul(p.Depth))
	r := &placed{look: look, front: front, Basis: f.turned(p.Tilt, p.Yaw, p.Roll)}
	r.inv = inverse(r.A, r.B, r.front)
	return r
}

// inverse returns the inverse of the matrix of columns a, b, c, by rows.
func inverse(a, b, c Vec) [9]float64 {
	d := 1 / a.dot(b.cross(c))
	r0, r1, r2 := b.cross(c).Mul(d), c.cross(a).Mul(d), a.cross(b).Mul(d)
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
	return r.front.Add(r.A.Mul(u - r.look.Front())).Add(r.B.Mul(v))
}
