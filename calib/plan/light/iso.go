package light

import "math"

// MarkedISO rounds an ISO speed to the nearest that cameras mark, in thirds of a stop.
func MarkedISO(iso float64) float64 {
	marks := []float64{100, 125, 160}
	k := int(math.Round(3 * math.Log2(iso/100)))
	octave, third := k/3, k%3
	if third < 0 {
		octave, third = octave-1, third+3
	}
	return math.Round(marks[third] * math.Exp2(float64(octave)))
}
