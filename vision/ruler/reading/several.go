package reading

import (
	"math"

	"leadmark/vision/ruler"
)

// foremost is the part of the same ruler that lies nearest its front end, where something hides the
// ruler in between: the end that a part shows is else that of what hides it.
func (c candidate) foremost(all []candidate, spec ruler.Spec) candidate {
	forward := spec.Forward(c.row.Dir)
	if forward == 0 {
		return c
	}
	best := c
	for _, o := range all {
		if c.continues(o.row) && o.match.Graduation == c.match.Graduation &&
			float64(forward)*c.row.Along(o.middle()) > float64(forward)*c.row.Along(best.middle()) {
			best = o
		}
	}
	return best
}

// continues says whether another row lies along the same line, past this one's end.
func (c candidate) continues(o ruler.Row) bool {
	first, last := c.row.Marks[0].T, c.row.Marks[len(c.row.Marks)-1].T
	mid := o.Origin.Add(o.Dir.Mul((o.Marks[0].T + o.Marks[len(o.Marks)-1].T) / 2))
	t := c.row.Along(mid)
	off := math.Abs(c.row.Dir.Cross(mid.Sub(c.row.Origin)))
	return math.Abs(c.row.Dir.Cross(o.Dir)) < sameAxis &&
		off < c.row.HalfLength+o.HalfLength && (t < first || t > last)
}

// secondRuler looks for a row that cannot belong to the same ruler as the one chosen: not
// parallel to it, or far to its side.
func secondRuler(best candidate, all []candidate) (ruler.Point, bool) {
	for _, c := range all {
		d := c.middle().Sub(best.middle())
		along := math.Abs(best.row.Dir.Cross(c.row.Dir)) < parallel
		if !along || math.Abs(best.row.Dir.Cross(d)) > widest*max(best.row.Pitch, c.row.Pitch) {
			return c.middle(), true
		}
	}
	return ruler.Point{}, false
}
