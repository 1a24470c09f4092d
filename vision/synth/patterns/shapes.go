package patterns

import "math"

// pattern is the tone at a place, 0 to 1; units are periods.
type pattern func(x, y float64) float64

func frac(x float64) float64 { return x - math.Floor(x) }

// bar is 1 where x lies within width w about the middle of its period.
func bar(x, w float64) float64 {
	if math.Abs(frac(x)-0.5) < w/2 {
		return 1
	}
	return 0
}

func within(x, a, b float64) float64 {
	if x >= a && x < b {
		return 1
	}
	return 0
}

// belt is a strip of the pattern across the picture's middle; beyond it lies a plain tone.
func belt(y, half, inside, beyond float64) float64 {
	if math.Abs(y) < half {
		return inside
	}
	return beyond
}
