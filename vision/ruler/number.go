package ruler

import (
	"fmt"
	"math"
)

// number says which reading each index has, and finds the front end on the way: the two
// settle each other.
func (c candidate) number(r *Reading, spec Spec) numbering {
	if c.code != nil {
		return c.numberByCode(r, spec)
	}
	forward := c.forward(spec)
	if forward == 0 && spec.Toward != (Point{}) {
		r.Status = StatusRefused
		r.Reason = Reason{"across-travel", fmt.Sprintf(
			"the ruler lies across the stated way of travel; travel is the way the front end moves in the "+
				"picture, here %s",
			waysOf(c.row.Dir))}
		return c.numberAlone(r)
	}
	if forward == 0 {
		return c.numberAlone(r)
	}
	step := -float64(forward) * r.Graduation // readings rise away from the front end
	num := numbering{step: step}
	if spec.Band {
		return c.numberByBand(r, spec, num, forward)
	}
	end, ok := frontOf(c.row, &c.lattice, forward, c.known(spec.Front, num))
	if !ok {
		r.Status = StatusRefused
		r.Reason = Reason{"front-not-visible",
			"the ruler's front end cannot be found; keep it, and a little of the backdrop beyond it, in the picture"}
		num.zero = c.anchor(forward)
		return num
	}
	r.Front = c.end(end)
	num.zero = c.lattice.index(c.row.Along(r.Front.At))
	if spec.Front != nil {
		num.zero = c.settle(r, num, *spec.Front)
		r.Absolute = true
	}
	return num
}

// waysOf names the two ways a ruler of a direction can travel in the picture.
func waysOf(dir Point) string {
	if math.Abs(dir.X) > math.Abs(dir.Y) {
		return "left or right"
	}
	return "up or down"
}

// anchor is the index of the mark nearest the front, or the first.
func (c candidate) anchor(forward int) float64 {
	if forward > 0 {
		return float64(c.row.Marks[len(c.row.Marks)-1].Index)
	}
	return float64(c.row.Marks[0].Index)
}

// known turns the stated front reading into an index, up to the longest lines' period.
func (c candidate) known(front *float64, num numbering) frontKnown {
	if front == nil {
		return frontKnown{}
	}
	steps := *front / num.step
	margin := max(0, -*front/math.Abs(num.step))
	if c.match.graduation == 0 {
		// Without the lines' lengths only the part between two graduations is known.
		return frontKnown{index: steps - math.Floor(steps), period: 1, margin: margin}
	}
	return frontKnown{index: float64(c.match.phase) + steps, period: c.match.period(), margin: margin}
}

// settle gives the index of the ruler's zero line: a whole one, that nearest to what the front
// end says, held to the longest lines where they are known.
func (c candidate) settle(r *Reading, num numbering, front float64) float64 {
	raw := num.zero - front/num.step
	zero := math.Round(raw)
	if c.match.graduation > 0 {
		p := c.match.period()
		phase := float64(c.match.phase)
		zero = phase + p*math.Round((raw-phase)/p)
	}
	if off := math.Abs(raw - zero); off > 0.5 {
		r.Status = StatusRefused
		r.Reason = Reason{"front-disagrees", fmt.Sprintf(
			"the edge taken for the front end lies %.1f graduations from where the long lines say it should be; "+
				"check front_mm, or whether something covers the end", off)}
	}
	return zero
}

// end turns a step into the ruler's end, on the ruler's long axis.
func (c candidate) end(s Step) *End {
	at, ok := c.row.middleLine().Meet(s.Line)
	if !ok {
		at = c.row.Origin.Add(c.row.Dir.Mul(s.T))
	}
	mid := s.Line.A.Add(s.Line.B).Mul(0.5)
	return &End{At: at, Line: s.Line, U: math.Hypot(math.Hypot(s.U, s.TurnU*at.Sub(mid).Len()), c.row.smearU()),
		WidthPX: s.WidthPX}
}

// middleLine is the ruler's long axis, midway between its long edges; the row's own axis
// where they were not found.
func (r Row) middleLine() Line {
	a, b := r.Sides[0], r.Sides[1]
	if a == nil || b == nil {
		return Line{r.Origin, r.Origin.Add(r.Dir)}
	}
	return Line{a.A.Add(b.A).Mul(0.5), a.B.Add(b.B).Mul(0.5)}
}

// numberAlone numbers the lines of a picture of which nothing is known: from the ruler's own
// zero where that can be told, else from the first line seen, rising to the right, or down.
func (c candidate) numberAlone(r *Reading) numbering {
	num := numbering{step: r.Graduation, zero: float64(c.row.Marks[0].Index)}
	last := float64(c.row.Marks[len(c.row.Marks)-1].Index)
	if d := c.row.Dir; d.X < -0.01 || (math.Abs(d.X) <= 0.01 && d.Y < 0) {
		num = numbering{step: -r.Graduation, zero: last}
	}
	low, high := c.zeroEnd(-1), c.zeroEnd(+1)
	switch {
	case low && !high:
		num, r.Absolute = numbering{step: r.Graduation, zero: float64(c.row.Marks[0].Index)}, true
	case high && !low:
		num, r.Absolute = numbering{step: -r.Graduation, zero: last}, true
	}
	forward := -1
	if num.step < 0 {
		forward = +1
	}
	for _, way := range []int{forward, -forward} {
		if s, ok := frontOf(c.row, &c.lattice, way, frontKnown{alone: true}); ok {
			r.Front = c.end(s)
			break
		}
	}
	return num
}

// zeroEnd says whether the row may begin with its zero line on one side: its last mark there is
// one of the longest class and the ruler ends soon beyond it, or only tens follow on the other
// side. Beside a code that could not be read nothing is taken for the end.
func (c candidate) zeroEnd(way int) bool {
	k := c.row.Marks[0]
	if way > 0 {
		k = c.row.Marks[len(c.row.Marks)-1]
	}
	if c.coded || c.match.graduation == 0 || c.match.class(k.Index-c.match.phase) != 0 {
		return false
	}
	if n, ten := tensAlone(c.row.Marks); n > 0 {
		return ten != k.Index
	}
	s, ok := frontOf(c.row, &c.lattice, way, frontKnown{alone: true})
	return ok && math.Abs(c.lattice.index(s.T)-float64(k.Index)) < 10
}

// numberByBand finds the bold band's leading edge and numbers the lines from it.
func (c candidate) numberByBand(r *Reading, spec Spec, num numbering, forward int) numbering {
	edge, ok := c.band(forward, c.known(&spec.BandAt, num))
	if !ok {
		r.Status = StatusRefused
		r.Reason = Reason{"band-not-visible", "the bold band across the ruler cannot be found; keep it in " +
			"the picture and in the light"}
		num.zero = c.anchor(forward)
		return num
	}
	r.Front = c.end(edge)
	num.zero = c.lattice.index(c.row.Along(r.Front.At))
	num.zero = c.settle(r, num, spec.BandAt)
	r.Absolute = true
	return num
}

// widestBand is how wide a bold band is at the most, graduations; common practice, no source.
const widestBand = 12

// band finds two edges that bound a bold band of the marks' tone and returns the one that
// leads, on the forward side.
func (c candidate) band(forward int, known frontKnown) (Step, bool) {
	var best Step
	score := 0.0
	for i, lead := range c.row.Steps {
		for j, trail := range c.row.Steps {
			width := float64(forward) * (c.lattice.index(lead.T) - c.lattice.index(trail.T))
			if i == j || width < 1 || width > widestBand || lead.Contrast*trail.Contrast > 0 {
				continue
			}
			// Entering the band along rising T must change the tone towards the marks'.
			into := trail.Contrast * float64(forward)
			if (into < 0) != c.row.DarkMarks {
				continue
			}
			v := min(math.Abs(lead.Contrast), math.Abs(trail.Contrast)) * lead.Coherent * trail.Coherent
			if v < faintEnd*c.row.Contrast {
				continue // a band is printed as boldly as lines are
			}
			if v *= known.likelihood(c.lattice.index(lead.T)); v > score {
				best, score = lead, v
			}
		}
	}
	return best, score > 0
}
