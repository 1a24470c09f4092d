package texture

import (
	"math"
	"math/rand/v2"
)

// Lot draws by chance.
type Lot struct{ *rand.Rand }

// NewLot is a lot that a seed and a number decide.
func NewLot(seed, number uint64) Lot { return Lot{rand.New(rand.NewPCG(seed, number))} }

// Span is even between two values.
func (l Lot) Span(a, b float64) float64 { return a + (b-a)*l.Float64() }

// Ratio is even in its logarithm.
func (l Lot) Ratio(a, b float64) float64 { return a * math.Pow(b/a, l.Float64()) }

// Chance is true in so many cases of one.
func (l Lot) Chance(p float64) bool { return l.Float64() < p }

// Sign is +1 or -1.
func (l Lot) Sign() float64 { return float64(2*l.IntN(2) - 1) }

// Pick picks one.
func Pick[T any](l Lot, from ...T) T { return from[l.IntN(len(from))] }
