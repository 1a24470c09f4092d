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
// Fields are compared next to the line between them, place by place, so that a shadow's outline a little
// off counts for nothing, and by the logarithms of their light, which a shade changes alike.

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
	mixed      bool    // past the edge some is lighter and some darker
	aside      float64 // pitches from the line between two fields, by which both are moved aside
}

// verdict is what a corner says of the ruler's ending there.
type verdict int

const (
	unseen   verdict = iota // the corner is not in the picture
	faint                   // the edge does not reach it
	likeless                // the ruler is as dark or light there as what lies beside it, or the backdrop too uneven
	crossed                 // another edge, such as a shadow's or a finger's, goes through it
	ending
	goingOn // the long edge goes on past the edge
)

// outline says what the ruler's outline shows at an edge across it, by both corners as far as they are seen.
func (f finding) outline(p pixel.Pyramid, r ruler.Row, s ruler.Step, least float64) ruler.Outline {
	if math.Abs(s.Contrast)*255 < least {
		return ruler.GoesOn
	}
	middle := r.Mid(f.graduations[len(f.graduations)/2].t)
	var said [goingOn + 1]int
	var on []float64
	for _, side := range r.Sides {
		if side == nil {
			continue
		}
		c, ok := cornerAt(p, s.Line, *side, middle)
		if !ok {
			continue
		}
		c.pitch, c.least = r.Pitch, least
		c.gap = max(fieldGap, leastGap/r.Pitch, s.WidthPX/2/r.Pitch)
		c.wide = max(fieldWide, leastWide/r.Pitch)
		if c.step = s.Contrast * 255; r.Along(middle) > s.T {
			c.step = -c.step
		}
		c.mixed = s.Face
		v, share := c.judge(0)
		if v != ending && v != goingOn && c.rounded(halfWidth(r, middle)) {
			v = ending
		}
		said[v]++
		if v >= crossed {
			on = append(on, share)
		}
	}
	not := said[goingOn]
	if isLine(r, s) {
		not += said[faint]
	}
	whole := s.Coherent >= ruler.WholeWidth || s.Face // else print hides a part: both corners must show it
	switch against := said[crossed] + said[goingOn] + said[faint]; {
	case said[ending] == 2 && whole:
		return ruler.Ends
	case said[ending] == 2:
		return ruler.HalfEnds
	case !whole:
		return ruler.GoesOn
	case said[ending] > 0 && (against == 0 || len(on) == 2 && (on[0]+on[1])/2 < alike):
		return ruler.HalfEnds
	case not > 0 && said[ending]+said[crossed]+said[likeless] == 0:
		return ruler.GoesOn
	}
	return ruler.Untold
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

// judge compares the four fields, those of the ruler in from the corner by so many pitches. on is how much
// of the long edge goes on past the edge, or of the edge beside the ruler, whichever is more, as a share.
func (c corner) judge(in float64) (v verdict, on float64) {
	within := c.acrossEdge(-1, in) // body to what lies past it
	before := c.acrossLong(-1, in) // body to what lies beside it
	after, beyond := c.acrossLong(+1, 0), c.acrossEdge(+1, 0)
	if within.unseen() || before.unseen() || after.unseen() || beyond.unseen() {
		return unseen, 0
	}
	past, aside := after.size(lights), beyond.size(lights)
	longGoes := math.Abs(past) / c.large(before, lights)
	edgeGoes := math.Abs(aside) / c.large(within, lights)
	on = max(longGoes, edgeGoes)
	switch {
	case c.large(within, tones) < c.least:
		return faint, on
	case !c.mixed && c.step*within.size(tones) < ownStep*within.size(tones)*within.size(tones):
		return crossed, 1 // the step lies somewhere near
	case c.large(before, tones) < c.least:
		return likeless, on
	case longGoes >= alike && !c.plain(corner.acrossLong, past, -1) || edgeGoes >= alike && !c.plain(corner.acrossEdge, aside, +1):
		return likeless, on
	case longGoes >= alike && past*before.size(lights) > 0:
		return goingOn, on
	case longGoes >= alike || edgeGoes >= alike:
		return crossed, on
	}
	return ending, on
}

// plain says whether a step past the corner, out to where the backdrop alone lies, is plainly larger than
// those beside it, the way told from the line: inward where the ruler, if it goes on, is even.
func (c corner) plain(across func(c corner, side, in float64) pairs, step, way float64) bool {
	var own []float64
	for k := 1.0; k <= besideFields; k++ {
		c.aside = way * k * c.wide
		if p := across(c, +1, 0); !p.unseen() {
			own = append(own, math.Abs(p.size(lights)))
		}
	}
	return len(own) == 0 || math.Abs(step) >= plainlyMore*stat.Median(own)
}

// large is how much the two sides of a line differ, by what of: of an edge past which it is lighter here and
// darker there, place by place.
func (c corner) large(p pairs, of func(in, out float64) float64) float64 {
	if c.mixed {
		return p.size(func(in, out float64) float64 { return math.Abs(of(in, out)) })
	}
	return math.Abs(p.size(of))
}

// rounded says whether a ruler ends whose corner is rounded off: nothing of it is seen at the corner,
// and its body is looked for midway between its long edges, and so far back.
func (c corner) rounded(half float64) bool {
	gone, outside := c.field(-1, c.gap, fieldLong, -1, c.gap, c.wide), c.field(+1, c.gap, fieldLong, +1, c.gap, c.wide)
	body := c.field(-1, c.gap, c.wide, -1, half, fieldLong)
	v, _ := c.judge(half)
	return math.Abs(gone-outside) < ownStep*math.Abs(gone-body) && v == ending
}

// pairs are the tones on the two sides of a line, place by place along it, the second further out.
type pairs struct{ in, out []float64 }

func (p pairs) unseen() bool { return len(p.in) == 0 }

func tones(in, out float64) float64  { return out - in }
func lights(in, out float64) float64 { return logLight(out) - logLight(in) }

// size is the median over the places of what a pair of tones has between them.
func (p pairs) size(of func(in, out float64) float64) float64 {
	v := make([]float64, len(p.in))
	for i := range v {
		v[i] = of(p.in[i], p.out[i])
	}
	return stat.Median(v)
}

func logLight(tone float64) float64 { return math.Log(pixel.Linear(tone) + darkLight) }

// acrossEdge are the tones before and past the edge, inside the long edge (side -1) or outside.
func (c corner) acrossEdge(side, in float64) pairs {
	return c.pairs(func(u, v float64) ruler.Point { return ruler.Point{X: v, Y: side * u} }, in)
}

// acrossLong are those inside and outside of the long edge, before the edge (way -1) or past it.
func (c corner) acrossLong(way, in float64) pairs {
	return c.pairs(func(u, v float64) ruler.Point { return ruler.Point{X: way * u, Y: v} }, in)
}

// pairs are taken from gap+in on along a line, u, so far to both sides of it, v; at tells how far
// along the ruler and out of it a place lies, pitches.
func (c corner) pairs(at func(u, v float64) ruler.Point, in float64) pairs {
	var out pairs
	n := 0
	for u := c.gap + in; u <= c.gap+in+fieldLong; u += 1 / fieldSamples {
		a, okA := c.beside(at, u, -1)
		b, okB := c.beside(at, u, +1)
		n++
		if okA && okB {
			out.in, out.out = append(out.in, a), append(out.out, b)
		}
	}
	if 2*len(out.in) < n {
		return pairs{}
	}
	return out
}

// beside is the median tone to one side of a line.
func (c corner) beside(at func(u, v float64) ruler.Point, u, side float64) (float64, bool) {
	level := levelFor(c.p, c.pitch/fieldSamples)
	var buf [64]float64
	seen := buf[:0]
	for v := c.gap; v <= c.gap+c.wide; v += 1 / fieldSamples {
		q := at(u, side*v+c.aside)
		if x, ok := c.p.Sample(level, c.at.Add(c.along.Mul(q.X*c.pitch)).Add(c.out.Mul(q.Y*c.pitch))); ok {
			seen = append(seen, x)
		}
	}
	if len(seen) < 2 {
		return 0, false
	}
	return stat.Median(seen), true
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
