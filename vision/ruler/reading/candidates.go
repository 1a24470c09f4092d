package reading

import (
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// candidates are the rows that are regular enough.
func candidates(s ruler.Sighting, spec ruler.Spec) []candidate {
	all := matched(s, spec)
	weighBeside(all)
	var out []candidate
	for _, c := range all {
		c.match = scale.Believed(c.matches, spec)
		c.readCode(spec)
		// Pins, fences and fabric are as even as a ruler, but have no longer lines in its order.
		if c.match.Graduation == 0 || sureness(c.row, &c.scale, c.match)+likeSureness(spec.Like, c.row) <
			needed(c.match.Pattern, len(c.row.Marks)) {
			continue
		}
		if c.code == nil && c.lengths.Curved(c.match) { // an instrument's
			continue
		}
		c.score = float64(c.scale.Used) * (1 + max(0, min(1, c.match.Evidence/manyNats)))
		out = append(out, c)
	}
	return out
}

// matched are the rows with their scale, and what the lengths of their lines match.
func matched(s ruler.Sighting, spec ruler.Spec) []candidate {
	var out []candidate
	for _, row := range s.Rows {
		l, ok := scale.Fit(row.Marks)
		if !ok || l.Used < fewestMarks || 2*row.HalfLength > longestShort*row.Pitch {
			continue
		}
		c := candidate{row: row, scale: l}
		c.lengths = scale.LengthsOf(row, &c.scale)
		c.matches = scale.Identify(row, c.lengths, spec)
		out = append(out, c)
	}
	return out
}
