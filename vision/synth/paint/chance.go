package paint

import (
	"math"
	"math/rand/v2"
)

// Chance draws what a study's pictures have at random.
type Chance struct{ *rand.Rand }

// NewChance draws from a source.
func NewChance(r *rand.Rand) Chance { return Chance{r} }

// Span is a number between a and b, evenly spread.
func (c Chance) Span(a, b float64) float64 { return a + (b-a)*c.Float64() }

// Scale is a number between a and b whose logarithm is evenly spread.
func (c Chance) Scale(a, b float64) float64 { return a * math.Pow(b/a, c.Float64()) }

// Either is a or -a.
func (c Chance) Either(a float64) float64 {
	if c.IntN(2) == 0 {
		return -a
	}
	return a
}
