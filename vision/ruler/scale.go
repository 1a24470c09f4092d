package ruler

import "math"

// Scale is the projective scale along the ruler's axis: a graduation of reading r lies at
// t = (T0 + T1 r) / (1 + T2 r) pixels from Origin in direction Dir.
type Scale struct {
	Origin, Dir Point
	// The mark at t runs Lean + LeanTurn t px along the axis for every px across it, in the
	// direction of Dir.Perp().
	Lean, LeanTurn float64
	LeanU          float64       // standard uncertainty of Lean
	Side           float64       // +1: the ruler's middle lies on the side of Dir.Perp(); -1: opposite
	Long           Line          // the ruler's long axis, along which the front end is taken
	LongU          float64       // px, standard uncertainty of its place across
	PlaceU         float64       // px along the axis, common to all marks: how truly marks are placed
	SmearU         float64       // px along the axis, common to all marks: what the movement's blur leaves open
	Edge           *Line         // the long edge beside the marks; nil where not found
	Width          float64       // m, from there to the other long edge; 0 where that was not found
	T0, T1, T2     float64       // px, px/m, 1/m
	Cov            [3][3]float64 // covariance of T0, T1, T2
	ResidualPX     float64       // r.m.s. residual of the marks that were used
	Used           int           // marks used in the fit
}

// T is the place of a reading (m) along the axis, px.
func (s Scale) T(reading float64) float64 {
	return (s.T0 + s.T1*reading) / (1 + s.T2*reading)
}

// Reading is the reading (m) at a place along the axis.
func (s Scale) Reading(t float64) float64 { return (t - s.T0) / (s.T1 - s.T2*t) }

// Place is the point of the picture on the axis at a reading.
func (s Scale) Place(reading float64) Point { return s.Origin.Add(s.Dir.Mul(s.T(reading))) }

// PxPerM is the local scale at a reading, px per metre.
func (s Scale) PxPerM(reading float64) float64 {
	d := 1 + s.T2*reading
	return math.Abs(s.T1-s.T2*s.T0) / (d * d)
}

// UReading is the standard uncertainty (m) of a reading taken off at t: that of the fitted
// scale alone, propagated to first order (GUM, JCGM 100:2008, 5.2.2).
func (s Scale) UReading(t float64) float64 {
	r := s.Reading(t)
	den := s.T1 - s.T2*t
	j := [3]float64{-1 / den, -r / den, r * t / den}
	var v float64
	for i := range j {
		for k := range j {
			v += j[i] * s.Cov[i][k] * j[k]
		}
	}
	return math.Sqrt(math.Max(0, v))
}

// Axis is the scale's axis as a line of the picture.
func (s Scale) Axis() Line { return Line{s.Origin, s.Origin.Add(s.Dir)} }

// Along is the place on the axis of the mark that runs through p.
func (s Scale) Along(p Point) float64 {
	d := p.Sub(s.Origin)
	w := s.Dir.Cross(d)
	return (s.Dir.Dot(d) - s.Lean*w) / (1 + s.LeanTurn*w)
}

// MarkDir is the unit direction of the mark at t, from the ruler's edge to its middle.
func (s Scale) MarkDir(t float64) Point {
	d := s.Dir.Perp().Add(s.Dir.Mul(s.Lean + s.LeanTurn*t)).Unit()
	if s.Side < 0 {
		return d.Mul(-1)
	}
	return d
}

// At reads the ruler where a line of the picture crosses its long axis: the reading (m), its
// standard uncertainty (m) from the scale's fit and from carrying it across the ruler, and the
// place. ok is false where the line runs along the ruler.
func (s Scale) At(line Line) (reading, u float64, at Point, ok bool) {
	p, ok := s.Long.Meet(line)
	if !ok || math.Abs(line.Dir().Cross(s.Dir)) < 0.2 {
		return 0, 0, Point{}, false
	}
	t := s.Along(p)
	px := math.Hypot(math.Hypot(s.PlaceU, s.SmearU), math.Hypot(leanDoubt, s.LeanU)*s.Dir.Cross(p.Sub(s.Origin)))
	// The line crosses the marks at a slant: where the axis lies matters by so much.
	mark := s.MarkDir(t)
	px = math.Hypot(px, s.LongU*line.Dir().Cross(mark)/max(0.2, math.Abs(line.Dir().Dot(mark))))
	return s.Reading(t), math.Hypot(s.UReading(t), px/s.PxPerM(s.Reading(t))), p, true
}

// leanDoubt is the standard uncertainty of the marks' lean, px along per px across: a lens's
// distortion bends them. Set by rendered frames with up to half a percent of barrel distortion.
const leanDoubt = 5.5e-4
