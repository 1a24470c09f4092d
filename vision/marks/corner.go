package marks

import (
	"math"

	"leadmark/fit/stat"
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// A ruler ends where its outline has a corner: the edge across it stops at its long edge, and the
// long edge stops there too. Of the four fields about the place where the two lines cross, the
// ruler then has one, and the backdrop three. Print, shading and glare stop at the long edge, but
// that goes on; what lies over the ruler, such as a thumb or a clamp, hides the long edge, but its
// own edge goes on beside the ruler.

// A corner's fields are so long along the ruler and across it, and begin so far from the lines,
// pitches: far enough that blur leaves most of a field its tone.
const (
	fieldLong = 4.0
	fieldWide = 2.0
	fieldGap  = 0.5
)

// faintest is the least contrast of an end, of that of the marks: fainter ones are shading's.
const faintest = 0.2

// corner is where an edge across the ruler meets one of its long edges: along points past the
// edge, out to the ruler's outside, both as unit vectors.
type corner struct {
	p          pixel.Pyramid
	at         ruler.Point
	along, out ruler.Point
	pitch      float64
	step       float64 // of the edge, tone past it less that before, grey levels
	least      float64 // contrast that counts, grey levels
}

// verdict is what the fields about a corner say of the ruler's ending there.
type verdict int

const (
	unknown verdict = iota // there is no outline to go by, or the edge goes on beside the ruler, as a shadow's does
	ending
	goingOn // the long edge goes on past the edge
)

// ends says whether the ruler ends at an edge across it, by the long edge beside the marks or, where
// that does not tell, by the other.
func (f finding) ends(p pixel.Pyramid, r ruler.Row, s ruler.Step) verdict {
	if s.Coherent < ruler.WholeWidth {
		return goingOn
	}
	middle := r.Mid(f.graduations[len(f.graduations)/2].t)
	for _, side := range r.Sides {
		if side == nil {
			continue
		}
		c, ok := cornerAt(p, s.Line, *side, middle)
		if c.pitch, c.least = r.Pitch, max(leastStep, faintest*r.Contrast*255); !ok {
			continue
		}
		if c.step = s.Contrast * 255; r.Along(middle) > s.T {
			c.step = -c.step
		}
		v := c.square()
		if v == unknown {
			v = c.round(halfWidth(r, middle))
		}
		if v != unknown {
			return v
		}
	}
	return unknown
}

// halfWidth is half the ruler's width, pitches.
func halfWidth(r ruler.Row, at ruler.Point) float64 {
	if r.Sides[0] == nil || r.Sides[1] == nil {
		return unseenBody / 2
	}
	return math.Abs(r.Sides[0].Distance(at)-r.Sides[1].Distance(at)) / 2 / r.Pitch
}

// cornerAt is where an edge across meets a long edge; middle is a place on the ruler.
func cornerAt(p pixel.Pyramid, across, side ruler.Line, middle ruler.Point) (corner, bool) {
	at, ok := across.Meet(side)
	c := corner{p: p, at: at, along: side.Dir(), out: across.Dir()}
	if c.along.Dot(at.Sub(middle)) < 0 {
		c.along = c.along.Mul(-1)
	}
	if c.out.Dot(side.Dir().Perp())*side.Distance(middle) > 0 {
		c.out = c.out.Mul(-1)
	}
	return c, ok
}

// square judges by the four fields about the corner, where the step from one to the next lies at
// the edge itself.
func (c corner) square() verdict {
	body, past := c.field(-1, fieldGap, -1, fieldGap), c.field(+1, fieldGap, -1, fieldGap)
	v := c.tell(body, past, c.field(-1, fieldGap, +1, fieldGap), c.field(+1, fieldGap, +1, fieldGap))
	if c.step*(past-body) < 0 || v == ending && !c.explains(past-body) {
		return unknown
	}
	return v
}

// explains says whether the edge itself makes at least half of a step in tone, over the ruler's width
// or beside the long edge: else the step lies somewhere near.
func (c corner) explains(step float64) bool {
	beside := c.near(+1) - c.near(-1)
	return 2*max(c.step*step, beside*step) >= step*step
}

// near is the tone inside the long edge just before or past the edge across.
func (c corner) near(way float64) float64 { return c.median(way, fieldGap, 1, -1, fieldGap) }

// round judges a ruler whose corner is rounded off: nothing is seen of one there, and its body is
// looked for midway between its long edges, the outside of the long edge half a width back.
func (c corner) round(half float64) verdict {
	outside := c.field(+1, fieldGap, +1, fieldGap)
	gone := c.field(-1, fieldGap, -1, fieldGap)
	body, inside := c.field(-1, fieldGap, -1, half), c.field(-1, half, -1, half)
	past, beside := c.field(+1, fieldGap, -1, half), c.field(-1, half, +1, fieldGap)
	if c.step*(past-body) < 0 || c.tell(body, past, beside, outside) != ending || c.tell(inside, past, beside, outside) != ending ||
		2*math.Abs(gone-outside) > math.Abs(body-past) {
		return unknown
	}
	return ending
}

// tell compares the ruler's tone with that past the edge, beside the ruler, and past and beside it:
// two of these are alike, or as different as the ruler is from them, whichever is nearer.
func (c corner) tell(body, past, beside, outside float64) verdict {
	across, along := math.Abs(body-past), math.Abs(body-beside)
	switch {
	case !(across >= c.least && 2*along >= across) || outside != outside: // no outline, or not in the picture
		return unknown
	case 2*math.Abs(past-outside) >= along:
		if (past-outside)*(body-beside) > 0 {
			return goingOn
		}
		return unknown // another edge, as a shadow's: the ruler's own would step the same way
	case 2*math.Abs(beside-outside) >= across:
		return unknown
	}
	return ending
}

// field is the median tone of a field about the corner, which begins so many pitches from it along
// the ruler and across it, to the sides that the signs tell; NaN where less than half of it is in
// the picture.
func (c corner) field(way, along, side, across float64) float64 {
	return c.median(way, along, fieldLong, side, across)
}

func (c corner) median(way, along, long, side, across float64) float64 {
	const samples = 4.0 // a pitch
	level := levelFor(c.p, c.pitch/samples)
	seen := make([]float64, 0, int((long*samples+1)*(fieldWide*samples+1)))
	for a := along; a <= along+long; a += 1 / samples {
		for b := across; b <= across+fieldWide; b += 1 / samples {
			at := c.at.Add(c.along.Mul(way * a * c.pitch)).Add(c.out.Mul(side * b * c.pitch))
			if v, ok := c.p.Sample(level, at); ok {
				seen = append(seen, v)
			}
		}
	}
	if 2*len(seen) < cap(seen) {
		return math.NaN()
	}
	return stat.Median(seen)
}
