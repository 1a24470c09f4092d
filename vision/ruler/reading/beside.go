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
			if i != j && all[j].plainlyRuler() && all[i].isBeside(all[j].row) {
				all[i].weighBy(&all[j], with[i])
			}
		}
	}
	for i := range all {
		all[i].matches = with[i]
	}
}

// plainlyRuler says whether a row is a ruler's by itself, be it divided in what it may.
func (c *candidate) plainlyRuler() bool {
	m := scale.Believed(c.matches, ruler.Spec{})
	return m.Graduation > 0 && sureness(c.row, &c.scale, m) >= needed(m.Pattern, len(c.row.Marks))
}

// isBeside says whether another row runs along this one on the same ruler.
func (c *candidate) isBeside(o ruler.Row) bool {
	t := o.Along(c.middle())
	off := math.Abs(c.row.Dir.Cross(o.Mid(t).Sub(c.middle())))
	return math.Abs(c.row.Dir.Cross(o.Dir)) < parallel && o.Within(t) &&
		off > c.row.HalfLength+o.HalfLength && off < widest*max(c.row.Pitch, o.Pitch)
}

// weighBy sets in matches what another scale says of each.
func (c *candidate) weighBy(o *candidate, matches []scale.Match) {
	at := o.scale.Index(o.row.Along(c.middle()))
	wider := math.Log(o.scale.Pitch(at) / c.scale.Pitch(c.scale.Mid))
	top := math.Inf(-1)
	for _, m := range o.matches {
		top = max(top, m.Total())
	}
	best := math.Inf(-1)
	says := make([]float64, len(matches))
	for k, m := range matches {
		says[k] = -ratioCount
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
