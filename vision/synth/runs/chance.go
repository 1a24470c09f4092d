package runs

import (
	"math"
	"math/rand/v2"
)

// chance draws what a study's pictures have at random.
type chance struct{ *rand.Rand }

func newChance(r *rand.Rand) chance { return chance{r} }

func (c chance) span(a, b float64) float64 { return a + (b-a)*c.Float64() }

// scale is a number between a and b whose logarithm is evenly spread.
func (c chance) scale(a, b float64) float64 { return a * math.Pow(b/a, c.Float64()) }

// either is a or -a.
func (c chance) either(a float64) float64 {
	if c.IntN(2) == 0 {
		return -a
	}
	return a
}
