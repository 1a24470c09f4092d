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
	if best != nil && !outdone(best, candidates(s, spec)) {
		return readDouble(*best, s, spec)
	}
	spec.Twin = false
	if r := interpretSingle(s, spec); r.Status != ruler.StatusRead {
		return r
	}
	return refuse(note.New("twin-not-seen"))
}

// outdone says whether another row, seen once, is so much longer that the two images are those of
// something else in the picture.
func outdone(twin *ruler.Row, once []candidate) bool {
	const longer = 3
	for _, c := range once {
		if c.row.Twin == nil && len(c.row.Marks) >= longer*len(twin.Marks) {
			return true
		}
	}
	return false
}

// readDouble reads the first flash's lines as those of a row of their own.
func readDouble(r ruler.Row, s ruler.Sighting, spec ruler.Spec) ruler.Reading {
	t := r.Twin
	c := candidate{row: r, scale: scale.ByIndex{A: t.A, B: t.B, C: t.C, Mid: t.Mid, Half: t.Half, Cov: t.Cov,
		RMS: t.Residual, Used: t.Last - t.First + 1}}
	for _, p := range scale.Patterns() {
		if p.Graduation == t.Graduation {
			c.match = scale.Match{Pattern: p, Evidence: t.Evidence}.Stated(spec)
		}
	}
	c.row.Pitch = c.scale.Pitch(t.Mid)
	rear := t.Rear
	rear.End = true // two of them, as far apart as the lines, tell
	c.row.Marks, c.row.Steps = firstMarks(t, &c.scale), []ruler.Step{rear}
	c.scale.Weight, c.scale.Residual = make([]float64, len(c.row.Marks)), make([]float64, len(c.row.Marks))
	for i := range c.scale.Weight {
		c.scale.Weight[i] = 1
	}
	out := c.read(s, spec)
	if out.Status == ruler.StatusRead {
		out.Twin = &ruler.Twin{Moved: math.Abs(t.Moved) * out.Graduation, U: t.MovedU * out.Graduation,
			Apart: math.Abs(t.Apart) * out.Graduation, Second: *c.end(t.Lead)}
		out.Twin.Second.Reading = out.Scale.Reading(out.Scale.Along(out.Twin.Second.At))
	}
	return out
}

// firstMarks are the lines that the first flash shows, placed by the fitted scale, up to its front end.
func firstMarks(t *ruler.TwinRow, l *scale.ByIndex) []ruler.Mark {
	first, last := t.First, t.Last
	if end := t.Index(t.Rear.T); end > t.Mid {
		last = max(last, int(math.Floor(end)))
	} else {
		first = min(first, int(math.Ceil(end)))
	}
	var out []ruler.Mark
	for i := first; i <= last; i++ {
		out = append(out, ruler.Mark{T: l.Place(float64(i)), U: t.Residual, Index: i, Strength: 1})
	}
	if len(out) > 1 && out[0].T > out[1].T { // in order of T
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	return out
}
