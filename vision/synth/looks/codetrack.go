package looks

import "math"

// CodeTrack is a row of dark and light cells along a scale's edge, one for each of its pitches,
// from its zero on.
type CodeTrack struct {
	Near, Far float64          // m from the scale's edge
	Cells     int              // how many
	Dark      func(i int) bool // the tone of the cell between graduations i and i+1
}

// cover returns the part of a small box fu by fv around (u, e) that dark cells cover, e being the
// distance inward.
func (c *CodeTrack) cover(u, e, fu, fv, pitch float64) float64 {
	if c == nil {
		return 0
	}
	across := overlap(e, fv, c.Near, c.Far) / fv
	if across == 0 {
		return 0
	}
	along := 0.0
	for i := max(0, int(math.Floor((u-fu/2)/pitch))); i <= min(c.Cells-1, int(math.Floor((u+fu/2)/pitch))); i++ {
		if c.Dark(i) {
			along += overlap(u, fu, float64(i)*pitch, float64(i+1)*pitch)
		}
	}
	return across * along / fu
}

// busy says whether a box around (u, e) is neither wholly dark nor wholly light.
func (c *CodeTrack) busy(u, e, fu, fv, pitch float64) bool {
	v := c.cover(u, e, fu, fv, pitch)
	return v > 0 && v < 1
}

// overlap returns the length common to the intervals centre±width/2 and [low, high].
func overlap(centre, width, low, high float64) float64 {
	return max(0, min(centre+width/2, high)-max(centre-width/2, low))
}
