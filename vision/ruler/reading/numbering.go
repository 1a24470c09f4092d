package reading

import (
	"math"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// numbering says which reading each index has: reading = (index - Zero) * Step, Step signed, m.
type numbering struct {
	zero, step float64
}

func (n numbering) reading(index float64) float64 { return (index - n.zero) * n.step }

// zeroLine gives the index of the ruler's zero line: a whole one, that nearest to what the front
// end says, that suits the longest lines where they are known.
func (c candidate) zeroLine(r *ruler.Reading, num numbering, front float64) float64 {
	raw := num.zero - front/num.step
	zero := math.Round(raw)
	if c.match.Graduation > 0 {
		p := c.match.Period()
		phase := float64(c.match.Phase)
		zero = phase + p*math.Round((raw-phase)/p)
	}
	if off := math.Abs(raw - zero); off > halfLine {
		r.Status = ruler.StatusRefused
		r.Reason = note.New("front-disagrees", off)
	}
	return zero
}

// known turns the stated front reading into an index, up to the longest lines' period.
func (c candidate) known(front *float64, num numbering) frontKnown {
	if front == nil {
		return frontKnown{}
	}
	steps := *front / num.step
	if c.match.Graduation == 0 {
		// Without the lines' lengths only the part between two graduations is known.
		return frontKnown{index: steps - math.Floor(steps), period: 1}
	}
	return frontKnown{index: float64(c.match.Phase) + steps, period: c.match.Period(),
		margin: max(0, -*front/math.Abs(num.step))}
}
