package reading

import (
	"math"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// Many rulers have two scales: how much wider one's graduations are than the other's tells what both
// are divided in, where the order of their lines leaves that open.

// weighBeside adds to every match of the rows what the scales beside them say.
func weighBeside(all []candidate) {
	with := make([][]scale.Match, len(all))
	for i := range all {
		with[i] = append(with[i], all[i].matches...)
		for j := range all {
			if i == j || !all[i].isBeside(all[j].row) {
				continue
			}
			if n := all[j].counts(&all[i]); n > 0 {
				all[i].weighBy(&all[j], n, with[i])
			}
		}
	}
	for i := range all {
		all[i].matches = with[i]
	}
}

// counts is how many nats a row may count for beside another: as many as it is sure to be a ruler's by
// itself, be it divided in what it may. One that does not lie between the other's long edges must be
// plainly one.
func (c *candidate) counts(o *candidate) float64 {
	m := scale.Believed(c.matches, ruler.Spec{})
	if m.Graduation == 0 {
		return 0
	}
	sure := sureness(c.row, &c.scale, m)
	if sure < needed(m.Pattern, len(c.row.Marks)) && !o.row.Sides.Hold(c.middle()) {
		return 0
	}
	return min(sure, ratioCount)
}

// isBeside says whether another row runs along this one on the same ruler.
func (c *candidate) isBeside(o ruler.Row) bool {
	t := o.Along(c.middle())
	off := math.Abs(c.row.Dir.Cross(o.Mid(t).Sub(c.middle())))
	return math.Abs(c.row.Dir.Cross(o.Dir)) < parallel && o.Within(t) && !c.sameLines(o) &&
		off > c.row.HalfLength+o.HalfLength && off < widest*max(c.row.Pitch, o.Pitch)
}

// sameLines says whether another row may be of some of this one's own lines: along the same edge of
// the ruler, a whole number of times as far apart or as near, as the longest are where they run past
// the others.
func (c *candidate) sameLines(o ruler.Row) bool {
	ratio := max(o.Pitch/c.row.Pitch, c.row.Pitch/o.Pitch)
	return c.row.Side*c.row.Dir.Dot(o.Dir)*o.Side > 0 && math.Abs(ratio/math.Round(ratio)-1) < ratioSD
}

// weighBy sets in matches what another scale, which counts for so many nats, says of each.
func (c *candidate) weighBy(o *candidate, most float64, matches []scale.Match) {
	at := o.scale.Index(o.row.Along(c.middle()))
	wider := math.Log(o.scale.Pitch(at) / c.scale.Pitch(c.scale.Mid))
	top := math.Inf(-1)
	for _, m := range o.matches {
		top = max(top, m.Total())
	}
	best := math.Inf(-1)
	says := make([]float64, len(matches))
	for k, m := range matches {
		says[k] = -most
		for _, n := range o.matches {
			z := (wider - math.Log(n.Graduation/m.Graduation)) / ratioSD
			says[k] = max(says[k], n.Total()-top-0.5*z*z)
		}
		best = max(best, says[k])
	}
	for k := range matches {
		matches[k].Beside += says[k] - best
	}
}
