package reading

import (
	"math"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// numberByBand finds the bold band's leading edge and numbers the lines from it.
func (c candidate) numberByBand(r *ruler.Reading, spec ruler.Spec, num numbering, forward int) numbering {
	edge, ok := c.band(forward, c.known(&spec.BandAt, num))
	if !ok {
		r.Status = ruler.StatusRefused
		r.Reason = note.New("band-not-visible")
		num.zero = lastIndex(c.row, forward)
		return num
	}
	r.Front = c.end(edge)
	num.zero = c.scale.Index(c.row.Along(r.Front.At))
	num.zero = c.zeroLine(r, num, spec.BandAt)
	r.Absolute = true
	return num
}

// band finds two edges that bound a bold band of the marks' tone and returns the one that
// leads, on the forward side.
func (c candidate) band(forward int, known frontKnown) (ruler.Step, bool) {
	var best ruler.Step
	score := 0.0
	for i, lead := range c.row.Steps {
		for j, trail := range c.row.Steps {
			width := float64(forward) * (c.scale.Index(lead.T) - c.scale.Index(trail.T))
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
			if v *= known.likelihood(c.scale.Index(lead.T)); v > score {
				best, score = lead, v
			}
		}
	}
	return best, score > 0
}
