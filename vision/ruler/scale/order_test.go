package scale

import (
	"math/rand/v2"
	"testing"

	"leadmark/vision/ruler"
)

// rowOf is a row of n marks 10 px apart whose lengths, in pitches, are given, each a little off.
func rowOf(n int, seed uint64, length func(i int) float64) []ruler.Mark {
	r := rand.New(rand.NewPCG(seed, 9))
	var marks []ruler.Mark
	for i := range n {
		marks = append(marks, ruler.Mark{T: 10 * float64(i), Index: i, Length: 10 * (length(i) + 0.1*r.NormFloat64()),
			Strength: 1})
	}
	return marks
}

// millimetre is the length of a millimetre ruler's line.
func millimetre(i int) float64 {
	switch {
	case i%10 == 0:
		return 4
	case i%5 == 0:
		return 2.6
	}
	return 1.7
}

// sixteenth is the length of a line of a ruler of 1/16 inch.
func sixteenth(i int) float64 {
	for _, c := range []struct {
		every int
		long  float64
	}{{16, 6}, {8, 4.6}, {4, 3.4}, {2, 2.4}} {
		if i%c.every == 0 {
			return c.long
		}
	}
	return 1.5
}

// Marks of a ruler and the gaps between them, each as long as the longer mark beside it, are told
// apart by their lengths alone.
func TestMarksFromGaps(t *testing.T) {
	const pitch, clear = 10, 15
	for name, line := range map[string]func(i int) float64{"mm": millimetre, "inch": sixteenth} {
		for seed := range uint64(20) {
			marks := rowOf(66, seed, line)
			if of, gaps := Orders(marks, pitch); of < gaps+clear {
				t.Errorf("%s marks %d: %.1f nats as marks, %.1f as gaps", name, seed, of, gaps)
			}
			between := rowOf(66, seed, func(i int) float64 { return max(line(i), line(i+1)) })
			if of, gaps := Orders(between, pitch); gaps < of+clear {
				t.Errorf("%s gaps %d: %.1f nats as marks, %.1f as gaps", name, seed, of, gaps)
			}
		}
	}
}

// Lengths, in pitches, as they were found along drawn things that no ruler is, and along a ruler
// too blurred to be read.
func otherLengths() map[string][]float64 {
	return map[string][]float64{
		"keys, which come again after seven": {
			4.69, 3.72, 3.72, 1.96, 1.96, 2.93, 3.72, 1.96, 3.72, 3.72, 1.96, 1.96, 3.52, 3.62, 1.96, 3.72, 3.72,
			1.96, 1.86, 3.42, 3.62,
			2.93, 3.62, 3.62, 1.86, 1.86, 3.62, 3.62, 1.86, 1.96, 3.52, 1.96, 1.86, 3.62, 3.62, 2.15, 3.52, 3.33,
			1.86, 1.76, 1.86, 3.52,
			1.86, 3.52, 3.52, 1.86, 1.86, 3.52, 3.52, 1.76, 2.35, 3.52, 1.76, 1.86, 3.52, 3.52,
		},
		"days of a calendar, with blots": {
			3.56, 0.25, 3.56, 0.25, 3.69, 0.25, 12.60, 0.25, 12.48, 0.38, 12.73, 0.25, 12.35, 0.38, 12.60, 0.38,
			12.35, 0.25, 1.65, 0.38,
			12.60, 0.38, 12.60, 0.38, 12.35, 0.38, 12.35, 0.38, 12.48, 0.38, 1.78, 0.38, 1.78, 0.51, 12.35, 0.38,
			12.48, 0.51, 5.86, 0.51,
			5.98, 0.51, 12.73, 0.51, 1.78, 0.51, 12.73, 0.51, 12.48, 0.51, 12.60, 0.51, 12.35, 0.38, 12.60, 0.00,
			12.35, 0.51, 12.48, 0.64,
			3.95, 0.64, 1.91, 0.51, 8.27, 0.51, 3.95, 0.64, 6.11, 0.64, 12.48, 0.51, 12.48, 0.00, 12.48, 0.64,
			12.35, 0.64, 1.91, 0.64,
		},
		"a ruler's lines at half their distance, long ones at two places of ten": {
			9.48, -1, 2.44, 0.29, 3.59, 3.59, 3.16, 3.45, 3.02, 3.02, 6.61, 2.30, 2.73, 6.75, 3.30, 3.59, 2.44,
			3.59, 3.30,
			3.30, 10.06, 2.15, 2.59, 12.64, 3.30, 0.43, 2.59, 2.73, 3.02, 3.02, 6.61, 2.59, 2.30, 6.90, 3.30,
			2.73, 2.87,
			3.02, 2.44, 3.16, 9.63, 2.30, 2.59, 1.87, 2.01, 3.02, 3.16, 3.30, 3.16, 2.73, 6.46, 2.01, 2.44, 6.32, 3.16,
			2.87, 2.87, 0.72, 2.59, 2.59, 9.34, 2.30, 2.01, 10.06, 3.02, 2.15, 1.44, 3.02, 4.02, 2.73, 6.32, 1.44, 1.44,
			6.03, 3.16, 3.02, 2.01, 2.59, 2.73, 2.87, 11.35, 2.15, 2.44, 0.86, 3.16,
		},
	}
}

// None of these is in a ruler's order, clearly enough to be believed.
func TestOrdersOfOtherThings(t *testing.T) {
	const pitch, believed = 10, 8
	for what, lengths := range otherLengths() {
		var marks []ruler.Mark
		for i, length := range lengths {
			if length >= 0 { // else none was seen there
				marks = append(marks, ruler.Mark{T: pitch * float64(i), Index: i, Length: pitch * length, Strength: 1})
			}
		}
		if of, _ := Orders(marks, pitch); of > believed {
			t.Errorf("%s: %.1f nats for a ruler's order", what, of)
		}
	}
}
