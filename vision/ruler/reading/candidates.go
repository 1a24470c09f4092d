package reading

import (
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

const (
	fewestMarks = 10  // fewer prove no ruler
	filled      = 0.6 // share of the lines between first and last that must be seen
)

// candidates are the rows that are regular enough.
func candidates(s ruler.Sighting, spec ruler.Spec) []candidate {
	var out []candidate
	for _, row := range s.Rows {
		l, ok := scale.Fit(row.Marks)
		if !ok || l.Used < fewestMarks {
			continue
		}
		c := candidate{row: row, scale: l, lengths: scale.LengthsOf(row, &l)}
		c.matches = scale.Identify(row, c.lengths, spec)
		c.match = scale.Believed(c.matches, spec)
		c.readCode(spec)
		if c.code == nil && full(row.Marks) < filled { // a code that is read proves the lines it lies between
			continue
		}
		// Pins, fences and fabric are as even as a ruler, but have no longer lines in its order.
		if c.match.Graduation == 0 || sureness(row, &l, c.match)+likeSureness(spec.Like, row) < needed(c.match.Pattern,
			len(row.Marks)) {
			continue
		}
		c.score = float64(l.Used) * (1 + max(0, min(1, c.match.Evidence/40)))
		out = append(out, c)
	}
	return out
}
