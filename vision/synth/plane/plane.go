package plane

import "math"

// Point is a place in a plane, mm, or in a picture, px.
type Point struct{ X, Y float64 }

// Add is p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub is p - q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Mul is k p.
func (p Point) Mul(k float64) Point { return Point{k * p.X, k * p.Y} }

// Dot is the scalar product.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Len is the length of p as a vector.
func (p Point) Len() float64 { return math.Hypot(p.X, p.Y) }

// Map is a projective map in homogeneous coordinates, row by row.
type Map [9]float64

// At maps a point.
func (m Map) At(p Point) Point {
	w := m[6]*p.X + m[7]*p.Y + m[8]
	return Point{(m[0]*p.X + m[1]*p.Y + m[2]) / w, (m[3]*p.X + m[4]*p.Y + m[5]) / w}
}

// Then maps by m and after that by n.
func (m Map) Then(n Map) Map {
	var out Map
	for i := range 3 {
		for k := range 3 {
			out[3*i+k] = n[3*i]*m[k] + n[3*i+1]*m[3+k] + n[3*i+2]*m[6+k]
		}
	}
	return out
}

// Inverse is the map back: the adjugate, which is the inverse up to a factor.
func (m Map) Inverse() Map {
	return Map{
		m[4]*m[8] - m[5]*m[7], m[2]*m[7] - m[1]*m[8], m[1]*m[5] - m[2]*m[4],
		m[5]*m[6] - m[3]*m[8], m[0]*m[8] - m[2]*m[6], m[2]*m[3] - m[0]*m[5],
		m[3]*m[7] - m[4]*m[6], m[1]*m[6] - m[0]*m[7], m[0]*m[4] - m[1]*m[3],
	}
}

// Slope is how the map moves a point when its argument moves by one along x, and along y.
func (m Map) Slope(p Point) (alongX, alongY Point) {
	w := m[6]*p.X + m[7]*p.Y + m[8]
	q := m.At(p)
	return Point{(m[0] - m[6]*q.X) / w, (m[3] - m[6]*q.Y) / w},
		Point{(m[1] - m[7]*q.X) / w, (m[4] - m[7]*q.Y) / w}
}

// Pose is how a plane stands before the camera.
type Pose struct {
	About    Point   // mm, of the plane, that is seen at Centre
	Centre   Point   // px
	PxPerMM  float64 // there, were the plane square to the view
	Distance float64 // mm
	// Radians: Yaw foreshortens the plane's x, Tilt its y; Turn turns the picture from x to y.
	Yaw, Tilt, Turn float64
	Principal       Point // px from Centre to where the lens's axis meets the picture
}

// Map is the pose's map from mm of the plane to px.
func (p Pose) Map() Map {
	cy, sy := math.Cos(p.Yaw), math.Sin(p.Yaw)
	ct, st := math.Cos(p.Tilt), math.Sin(p.Tilt)
	cr, sr := math.Cos(p.Turn), math.Sin(p.Turn)
	f := p.PxPerMM * p.Distance
	// The plane's x and y axes in the camera's frame: X, Y, Z.
	xx, xy, xz := cr*cy+sr*sy*st, sr*cy-cr*sy*st, sy*ct
	yx, yy, yz := -sr*ct, cr*ct, st
	// The ray to Centre leaves the axis by -Principal.
	ox, oy := -p.Principal.X/f*p.Distance, -p.Principal.Y/f*p.Distance
	cx, ccy := p.Centre.X+p.Principal.X, p.Centre.Y+p.Principal.Y
	a := p.About
	row := func(ax, ay, off float64) [3]float64 { return [3]float64{ax, ay, off - ax*a.X - ay*a.Y} }
	X, Y, Z := row(xx, yx, ox), row(xy, yy, oy), row(xz, yz, p.Distance)
	var m Map
	for k := range 3 {
		m[k] = f*X[k] + cx*Z[k]
		m[3+k] = f*Y[k] + ccy*Z[k]
		m[6+k] = Z[k]
	}
	return m
}
