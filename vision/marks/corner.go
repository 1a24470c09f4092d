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
//
// Fields are compared next to the line between them, so that a shadow's outline a little off counts
// for nothing, and by the logarithms of their light, which a shade changes alike.

// corner is where an edge across the ruler meets one of its long edges: along points past the
// edge, out to the ruler's outside, both as unit vectors.
type corner struct {
	p          pixel.Pyramid
	at         ruler.Point
	along, out ruler.Point
	pitch      float64
	gap, wide  float64 // pitches
	step       float64 // of the edge, tone past it less that before, grey levels
	least      float64 // contrast that counts, grey levels
}

// verdict is what a corner says of the ruler's ending there.
type verdict int

const (
	unseen   verdict = iota // the corner is not in the picture
	faint                   // the edge does not reach it
	likeless                // the ruler is as dark or light there as what lies beside it
	crossed                 // another edge, such as a shadow's or a finger's, goes through it
	ending
	goingOn // the long edge goes on past the edge
)

// ends says whether the ruler ends at an edge across it, by both corners as far as they are seen;
// open says that they leave it open.
func (f finding) ends(p pixel.Pyramid, r ruler.Row, s ruler.Step) (end, open bool) {
	if s.Coherent < ruler.WholeWidth {
		return false, false
	}
	middle := r.Mid(f.graduations[len(f.graduations)/2].t)
	var said [goingOn + 1]int
	for _, side := range r.Sides {
		if side == nil {
			continue
		}
		c, ok := cornerAt(p, s.Line, *side, middle)
		if !ok {
			continue
		}
		c.pitch, c.least = r.Pitch, max(leastStep, faintest*r.Contrast*255)
		c.gap = max(fieldGap, leastGap/r.Pitch, s.WidthPX/2/r.Pitch)
		c.wide = max(fieldWide, leastWide/r.Pitch)
		if c.step = s.Contrast * 255; r.Along(middle) > s.T {
			c.step = -c.step
		}
		v := c.judge(0)
		if v != ending && v != goingOn && c.rounded(halfWidth(r, middle)) {
			v = ending
		}
		said[v]++
	}
	not := said[goingOn]
	if isLine(r, s) {
		not += said[faint]
	}
	switch {
	case said[ending] > 0 && said[crossed]+said[goingOn]+said[faint] == 0:
		return true, false
	case not > 0 && said[ending]+said[crossed]+said[likeless] == 0:
		return false, false
	}
	return false, true
}

// isLine says whether an edge is one side of a line across the ruler: the other lies beside it.
func isLine(r ruler.Row, s ruler.Step) bool {
	for _, o := range r.Steps {
		if o.Contrast*s.Contrast < 0 && math.Abs(o.Contrast) > ownStep*math.Abs(s.Contrast) && math.Abs(o.T-s.T) < fieldWide*r.Pitch {
			return true
		}
	}
	return false
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

// judge compares the four fields, those of the ruler in from the corner by so many pitches.
func (c corner) judge(in float64) verdict {
	within := c.acrossEdge(-1, in) // body to what lies past it
	before := c.acrossLong(-1, in) // body to what lies beside it
	after, beyond := c.acrossLong(+1, 0), c.acrossEdge(+1, 0)
	switch {
	case within.unseen() || before.unseen() || after.unseen() || beyond.unseen():
		return unseen
	case math.Abs(within.tone()) < c.least:
		return faint
	case c.step*within.tone() < ownStep*within.tone()*within.tone():
		return crossed // the step lies somewhere near
	case math.Abs(before.tone()) < c.least:
		return likeless
	case math.Abs(after.light()) >= alike*math.Abs(before.light()):
		if after.light()*before.light() > 0 {
			return goingOn
		}
		return crossed
	case math.Abs(beyond.light()) >= alike*math.Abs(within.light()):
		return crossed
	}
	return ending
}

// rounded says whether a ruler ends whose corner is rounded off: nothing of it is seen at the corner,
// and its body is looked for midway between its long edges, and so far back.
func (c corner) rounded(half float64) bool {
	gone, outside := c.field(-1, c.gap, fieldLong, -1, c.gap, c.wide), c.field(+1, c.gap, fieldLong, +1, c.gap, c.wide)
	body := c.field(-1, c.gap, c.wide, -1, half, fieldLong)
	return math.Abs(gone-outside) < ownStep*math.Abs(gone-body) && c.judge(half) == ending
}

// pair are the tones of two fields, the second further out.
type pair struct{ in, out float64 }

func (p pair) unseen() bool   { return p.in != p.in || p.out != p.out }
func (p pair) tone() float64  { return p.out - p.in }
func (p pair) light() float64 { return logLight(p.out) - logLight(p.in) }

func logLight(tone float64) float64 { return math.Log(pixel.Linear(tone) + darkLight) }

// acrossEdge are the fields before and past the edge, inside the long edge (side -1) or outside.
func (c corner) acrossEdge(side, in float64) pair {
	return pair{c.field(-1, c.gap, c.wide, side, c.gap+in, fieldLong), c.field(+1, c.gap, c.wide, side, c.gap+in, fieldLong)}
}

// acrossLong are those inside and outside of the long edge, before the edge (way -1) or past it.
func (c corner) acrossLong(way, in float64) pair {
	return pair{c.field(way, c.gap+in, fieldLong, -1, c.gap, c.wide), c.field(way, c.gap+in, fieldLong, +1, c.gap, c.wide)}
}

// field is the median tone of a field about the corner, which begins so many pitches from it along
// the ruler and across it, to the sides that the signs tell, and is so long and wide; NaN where less
// than half of it is in the picture.
func (c corner) field(way, along, long, side, across, wide float64) float64 {
	level := levelFor(c.p, c.pitch/fieldSamples)
	seen := make([]float64, 0, int((long*fieldSamples+1)*(wide*fieldSamples+1)))
	for a := along; a <= along+long; a += 1 / fieldSamples {
		for b := across; b <= across+wide; b += 1 / fieldSamples {
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
