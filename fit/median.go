package fit

import "slices"

// Median is the median of values, whose order it changes; 0 where there are none.
func Median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	n := len(v)
	m := Kth(v, n/2)
	if n%2 == 0 {
		m = (m + slices.Max(v[:n/2])) / 2
	}
	return m
}

// MedianOffset is where a line of a slope through the median of the points lies at x = 0.
func MedianOffset(x, y []float64, slope float64) float64 {
	rest := make([]float64, len(x))
	for i := range x {
		rest[i] = y[i] - slope*x[i]
	}
	return Median(rest)
}
