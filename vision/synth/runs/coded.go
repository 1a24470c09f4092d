package runs

import (
	"math"

	"leadmark/vision/ruler/coded"
)

// CodeTrack is a row of dark and light cells along a scale's edge, one for each of its pitches,
// from its zero on.
type CodeTrack struct {
	Near, Far float64          // m from the scale's edge
	Cells     int              // how many
	Dark      func(i int) bool // the tone of the cell between graduations i and i+1
}

// Coded is the coded ruler as it is printed, on a lath. Layout and sequence are what is printed,
// so they come from package ruler.
func Coded(length float64) Look {
	lay := coded.Layout()
	s := Millimetres(length)
	s.LineWidth = lay.LineWidth
	s.Steps = []Step{{1, lay.Short}, {5, lay.Middle}, {10, lay.Long}}
	s.NumeralStep, s.NumeralHeight = 10, lay.NumeralHeight
	s.NumeralGap = lay.NumeralNear - lay.Long
	s.Code = &CodeTrack{Near: lay.CodeNear, Far: lay.CodeFar, Cells: int(length/mm + 1e-6), Dark: coded.Dark}
	return Look{Name: "coded", Length: length, Width: lay.Width, Base: RGB{0.78, 0.78, 0.75}, Ink: grey(0.05),
		Grain: Paper, GrainDepth: 0.04, Wear: 0.05, Opacity: 1, Scales: []Scale{s}}
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
