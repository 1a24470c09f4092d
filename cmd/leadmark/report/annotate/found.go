package annotate

import (
	"math"

	"leadmark/calib"
	"leadmark/vision/ruler"
)

// segment is a straight stroke between two places of a frame.
type segment struct{ A, B ruler.Point }

// graduation is one found on the ruler, drawn beside it from the shortest marks outward.
type graduation struct {
	segment
	Rank    int     // 2: whole centimetre or inch, 1: half of one, 0: any other
	Seen    bool    // found in the picture, not only placed by the fitted scale
	Reading float64 // m
}

// found is what is drawn on a picture of a frame: places in pixels of the frame as displayed.
type found struct {
	Front       *segment
	Second      *segment // the front end as the second of two flashes shows it
	Trip        *segment
	Graduations []graduation
}

// marksOn collects what was found in a frame. Graduations are unit px long; those that would lie
// closer than gap px are thinned to halves, then wholes, of the centimetre or inch.
func marksOn(f calib.FrameResult, trip Trip, unit, gap float64) found {
	var m found
	if trip.Line != nil {
		line := *trip.Line
		if f.Carried != nil {
			line = f.Carried.LineTo(line)
		}
		m.Trip = &segment{line.A, line.B}
	}
	if f.Status != ruler.StatusRead {
		return m
	}
	m.Front = frontSegment(f)
	if t := f.Reading.Twin; t != nil {
		m.Second = &segment{t.Second.Line.A, t.Second.Line.B}
	}
	lowest := 0
	if g := f.Reading.Graduation; g > 0 && f.PxPerM > 0 {
		half, whole := ranks(f.Reading)
		for lowest < 2 && f.PxPerM*g*[]float64{1, float64(half), float64(whole)}[lowest] < gap {
			lowest++
		}
	}
	for g := range f.Reading.Graduations.All() {
		if rank := rankOf(g.Reading, f.Reading); rank >= lowest {
			stroke := graduationSegment(g.At, f.Reading.Scale, unit*[]float64{1, 1.6, 2.4}[rank])
			m.Graduations = append(m.Graduations, graduation{stroke, rank, g.Seen, g.Reading})
		}
	}
	return m
}

// graduationSegment runs from the graduation outward, over the ruler's edge: MarkDir points inward.
func graduationSegment(at ruler.Point, s ruler.Scale, length float64) segment {
	d := s.MarkDir(s.Along(at))
	if d.Len() == 0 {
		d = s.Dir.Unit().Perp()
	}
	return segment{at.Sub(d.Mul(0.35 * length)), at.Sub(d.Mul(1.35 * length))}
}

// frontSegment is the front end's edge across the ruler.
func frontSegment(f calib.FrameResult) *segment {
	at, ok := frontOf(f)
	if !ok {
		return nil
	}
	if e := f.Reading.Front; e != nil && e.Line.B.Sub(e.Line.A).Len() > 2 {
		return &segment{e.Line.A, e.Line.B}
	}
	d := f.Reading.Scale.Dir.Unit().Perp().Mul(max(halfWidth(f.Reading), 10))
	return &segment{at.Sub(d), at.Add(d)}
}

// ranks is how many graduations make half and whole of a centimetre or an inch.
func ranks(r ruler.Reading) (half, whole int) {
	unit := 10e-3
	if r.Unit == "inch" {
		unit = 25.4e-3
	}
	whole = max(1, int(math.Round(unit/r.Graduation)))
	return max(1, whole/2), whole
}

func rankOf(reading float64, r ruler.Reading) int {
	if !(r.Graduation > 0) {
		return 0
	}
	half, whole := ranks(r)
	switch k := int(math.Round(reading / r.Graduation)); {
	case k%whole == 0:
		return 2
	case k%half == 0:
		return 1
	}
	return 0
}

// through is the part of the straight line through s that lies in region b; ok is false where it
// passes b by (Liang and Barsky's clipping).
func (s segment) through(b box) (part segment, ok bool) {
	d := s.B.Sub(s.A)
	lo, hi := math.Inf(-1), math.Inf(1)
	for _, side := range [][2]float64{{d.X, b.X0 - s.A.X}, {-d.X, s.A.X - b.X1}, {d.Y, b.Y0 - s.A.Y},
		{-d.Y, s.A.Y - b.Y1}} {
		switch t := side[1] / side[0]; {
		case side[0] > 0:
			lo = max(lo, t)
		case side[0] < 0:
			hi = min(hi, t)
		case side[1] > 0:
			return segment{}, false
		}
	}
	if !(lo < hi) || math.IsInf(lo, 0) || math.IsInf(hi, 0) {
		return segment{}, false
	}
	return segment{s.A.Add(d.Mul(lo)), s.A.Add(d.Mul(hi))}, true
}
