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
