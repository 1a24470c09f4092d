package ruler

import "math"

// numbering says which reading each index has: reading = (index - Zero) * Step, Step signed, m.
type numbering struct {
	zero, step float64
}

func (n numbering) reading(index float64) float64 { return (index - n.zero) * n.step }

// scale turns a lattice into a Scale by substituting m = alpha + beta r.
func (l *lattice) scale(row Row, n numbering) Scale {
	s := Scale{Origin: row.Origin, Dir: row.Dir, Lean: row.Lean, LeanTurn: row.LeanTurn, LeanU: row.LeanU,
		Side: row.Side,
		Long: row.middleLine(), Edge: row.Sides[0], ResidualPX: l.rms, Used: l.used}
	conv := func(a, b, c float64) [3]float64 {
		alpha, beta := (n.zero-l.mid)/l.half, 1/(n.step*l.half)
		d := 1 + c*alpha
		return [3]float64{(a + b*alpha) / d, b * beta / d, c * beta / d}
	}
	s.LongU = row.longU(math.Abs(1e-3 * l.pitch(l.mid) / n.step))
	s.SmearU, s.PlaceU = row.smearU(), math.Hypot(placing, crowding/l.pitch(l.mid))
	p := conv(l.a, l.b, l.c)
	s.T0, s.T1, s.T2 = p[0], p[1], p[2]
	// The covariance follows by the derivatives of the substitution, taken numerically.
	var jac [3][3]float64
	base := [3]float64{l.a, l.b, l.c}
	for k := range base {
		h := 1e-6 * math.Max(1, math.Abs(base[k]))
		up, down := base, base
		up[k] += h
		down[k] -= h
		pu, pd := conv(up[0], up[1], up[2]), conv(down[0], down[1], down[2])
		for r := range jac {
			jac[r][k] = (pu[r] - pd[r]) / (2 * h)
		}
	}
	for r := range s.Cov {
		for c := range s.Cov[r] {
			for i := range base {
				for j := range base {
					s.Cov[r][c] += jac[r][i] * l.cov[i][j] * jac[c][j]
				}
			}
		}
	}
	return s
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

const (
	// placing is the standard uncertainty, px, with which marks are placed on average whatever
	// their number: pixels' own sampling, compression and the lens's distortion along the row; and
	// crowding, px^2, is what is added to it by marks that lie so close that they run into each other,
	// over their pitch.
	placing  = 0.05
	crowding = 0.4
	// leanDoubt is that of the marks' lean, px along per px across: a lens's distortion bends
	// them. All were set by rendered frames with up to half a percent of barrel distortion.
	leanDoubt = 5.5e-4
)
