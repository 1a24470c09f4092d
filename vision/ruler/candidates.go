package ruler

const (
	fewestMarks = 10  // fewer prove no ruler
	filled      = 0.6 // share of the lines between first and last that must be seen
)

// candidates are the rows that are regular enough.
func candidates(s Sighting, spec Spec) []candidate {
	var out []candidate
	for _, row := range s.Rows {
		l, ok := fitLattice(row.Marks)
		if !ok || l.used < fewestMarks {
			continue
		}
		c := candidate{row: row, lattice: l, lengths: lengthsOf(row, &l)}
		c.matches = identify(row, c.lengths)
		c.match = believed(c.matches, spec)
		c.readCode(spec)
		if c.code == nil && full(row.Marks) < filled { // a code that is read proves the lines it lies between
			continue
		}
		// Pins, fences and fabric are as even as a ruler, but have no longer lines in its order.
		if c.match.graduation == 0 || sureness(row, &l, c.match)+likeSureness(spec.Like, row) < needed(c.match.pattern,
			len(row.Marks)) {
			continue
		}
		c.score = float64(l.used) * (1 + max(0, min(1, c.match.evidence/40)))
		out = append(out, c)
	}
	return out
}
