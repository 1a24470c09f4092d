package ruler

import "math"

// Shift is how the scene of one picture lies against that of another, as when the camera was turned:
// where it went, and by how much it turned, grew and leans about the picture's middle.
type Shift struct {
	Middle Point   // of the picture, px
	Half   float64 // px, half its diagonal: the rim
	Move   Point   // px, of the middle
	// Turned is by how much it turned (x to y) and Grown by how much it grew, px at the rim. Where a
	// camera is turned aside, what lies ahead of the move grows and what lies behind it shrinks: Lean
	// is by how much at the rim, px.
	Turned, Grown float64
	Lean          Point
	Cov           [6][6]float64 // px^2, of Move.X, Move.Y, Turned, Grown, Lean.X and Lean.Y
	// Warp is by how much parts of the picture moved otherwise than that, px, with its standard
	// uncertainty.
	Warp, WarpU float64
	Whole       bool // at least two parts of the picture, on opposite sides, could be compared
}

// To is where the scene at a place of the one picture lies in the other.
func (s Shift) To(p Point) Point {
	if s.Half == 0 {
		return p.Add(s.Move)
	}
	d := p.Sub(s.Middle)
	e := d.Mul(1 / s.Half)
	q := d.Add(s.Move).Add(e.Mul(s.Grown)).Add(e.Perp().Mul(s.Turned))
	return s.Middle.Add(q.Mul(1 / (1 - s.Lean.Dot(e)/s.Half)))
}

// Back is where the scene at a place of the other picture lies in the one.
func (s Shift) Back(q Point) Point {
	p := q
	for range backPasses {
		p = p.Add(q.Sub(s.To(p)))
	}
	return p
}

// backPasses is how often Back betters its place: each pass leaves a hundredth of what was off, of a
// camera turned by degrees.
const backPasses = 8

// LineTo is where a line of the one picture lies in the other.
func (s Shift) LineTo(l Line) Line { return Line{s.To(l.A), s.To(l.B)} }

// LineBack is where a line of the other picture lies in the one.
func (s Shift) LineBack(l Line) Line { return Line{s.Back(l.A), s.Back(l.B)} }

// U is the standard uncertainty, px, of To at a place, in a direction.
func (s Shift) U(p, dir Point) float64 {
	if s.Half == 0 {
		return math.Sqrt(s.Cov[0][0]*dir.X*dir.X + 2*s.Cov[0][1]*dir.X*dir.Y + s.Cov[1][1]*dir.Y*dir.Y)
	}
	e := p.Sub(s.Middle).Mul(1 / s.Half)
	out := dir.Dot(e)
	j := [6]float64{dir.X, dir.Y, dir.Dot(e.Perp()), out, out * e.X, out * e.Y}
	v := 0.0
	for i := range j {
		for k := range j {
			v += j[i] * s.Cov[i][k] * j[k]
		}
	}
	return math.Sqrt(max(0, v))
}
