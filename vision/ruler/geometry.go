package ruler

import "math"

// Point is a place in a picture as displayed, in pixels: x to the right, y down,
// (0, 0) the centre of the top-left pixel.
type Point struct{ X, Y float64 }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p - q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Mul returns k p.
func (p Point) Mul(k float64) Point { return Point{k * p.X, k * p.Y} }

// Dot returns the scalar product of p and q.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross returns the z component of the vector product of p and q.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Len returns the length of p as a vector.
func (p Point) Len() float64 { return math.Hypot(p.X, p.Y) }

// Unit returns p scaled to length 1; the zero vector stays zero.
func (p Point) Unit() Point {
	l := p.Len()
	if l == 0 {
		return Point{}
	}
	return p.Mul(1 / l)
}

// Perp returns p turned by a quarter so that x turns into y.
func (p Point) Perp() Point { return Point{-p.Y, p.X} }

// Line is the straight line through two different points of a picture.
type Line struct{ A, B Point }

// Dir returns the unit vector from A to B.
func (l Line) Dir() Point { return l.B.Sub(l.A).Unit() }

// Meet returns where two lines cross; ok is false where they are parallel.
func (l Line) Meet(m Line) (p Point, ok bool) {
	d, e := l.B.Sub(l.A), m.B.Sub(m.A)
	den := d.Cross(e)
	if math.Abs(den) < 1e-12*d.Len()*e.Len() || den == 0 {
		return Point{}, false
	}
	t := m.A.Sub(l.A).Cross(e) / den
	return l.A.Add(d.Mul(t)), true
}

// Distance returns the signed distance of p from l in pixels, positive on the side of Dir().Perp().
func (l Line) Distance(p Point) float64 { return l.Dir().Cross(p.Sub(l.A)) }
