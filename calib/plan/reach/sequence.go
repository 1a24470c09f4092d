package reach

import "math/rand/v2"

// dims is how many numbers make a trip: lag, speed, elevation, azimuth, and the place in the
// opening.
const dims = 6

// sequence is an additive recurrence (Kronecker sequence) with a random start: point k is the
// fraction of start + k a, a_j = g^-j, g the root of x^7 = x + 1 (Roberts 2018, "The unreasonable
// effectiveness of quasirandom sequences", from memory). It fills the six dimensions more evenly
// than random numbers; each start gives an unbiased answer of its own, and the scatter among starts
// says how far off the mean is (random shifts: Cranley and Patterson 1976).
type sequence struct{ at, step [dims]uint64 }

const golden6 = 1.1127756842787055

func newSequence(r *rand.Rand) sequence {
	var s sequence
	a := 1.0
	for j := range s.step {
		a /= golden6
		s.step[j] = uint64(a * (1 << 63) * 2)
		s.at[j] = r.Uint64()
	}
	return s
}

// next steps on and returns dimension j, in (0, 1), to 52 bits.
func (s *sequence) next(j int) float64 {
	s.at[j] += s.step[j]
	return (float64(s.at[j]>>12) + 0.5) * (1.0 / (1 << 52))
}
