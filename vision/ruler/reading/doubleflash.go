package reading

import (
	"math"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// interpretDouble reads the ruler as the first flash shows it, and how far it had moved by the
// second. A picture in which the ruler is seen once is refused: which of the two flashes shows it
// cannot be told, and the advance would be off by as much as it moves in between.
func interpretDouble(s ruler.Sighting, spec ruler.Spec) ruler.Reading {
	var best *ruler.Row
	for i, r := range s.Rows {
		if r.Twin != nil && (best == nil || r.Twin.Score > best.Twin.Score) {
			best = &s.Rows[i]
		}
	}
	if best != nil {
		return readDouble(*best, s, spec)
	}
	spec.Twin = false
	if r := interpretSingle(s, spec); r.Status != ruler.StatusRead {
		return r
	}
	return refuse(note.New("twin-not-seen"))
}

// readDouble reads the first flash's lines as those of a row of their own.
func readDouble(r ruler.Row, s ruler.Sighting, spec ruler.Spec) ruler.Reading {
	t := r.Twin
	c := candidate{row: r}
	c.row.Marks = t.Lines
	l, ok := scale.Fit(t.Lines)
	if !ok {
		return refuse(note.New("twin-not-seen"))
	}
	c.scale = l
	for _, p := range scale.Patterns() {
		if p.Graduation == t.Graduation {
			c.match = scale.Match{Pattern: p, Evidence: t.Score}.Stated(spec)
		}
	}
	c.row.Pitch = c.scale.Pitch(c.scale.Mid)
	rear := t.Rear
	rear.Outline = ruler.Ends // two of them, as far apart as the lines, tell
	c.row.Steps = []ruler.Step{rear}
	out := c.read(s, spec)
	if out.Status == ruler.StatusRead {
		out.Twin = &ruler.Twin{Moved: math.Abs(t.Moved) * out.Graduation, U: t.MovedU * out.Graduation,
			Apart: math.Abs(t.Apart) * out.Graduation, Second: *c.end(t.Lead)}
		out.Twin.Second.Reading = out.Scale.Reading(out.Scale.Along(out.Twin.Second.At))
	}
	return out
}
