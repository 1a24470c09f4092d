package stat

import (
	"cmp"
	"slices"
)

// Select returns the value that k others come before in order, and puts x out of order (Hoare,
// Commun. ACM 4 (1961) 321). x must hold a value and no NaN; a k outside of it counts as its first
// or last place.
func Select[T cmp.Ordered](x []T, k int) T {
	lo, hi := 0, len(x)-1
	k = max(lo, min(hi, k))
	for lo < hi {
		a, b, c := x[lo], x[(lo+hi)/2], x[hi]
		pivot := max(min(a, b), min(max(a, b), c)) // of ordered and of reversed values too, the middle one
		i, j := lo, hi
		for i <= j {
			for x[i] < pivot {
				i++
			}
			for pivot < x[j] {
				j--
			}
			if i <= j {
				x[i], x[j] = x[j], x[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return x[k]
		}
	}
	return x[k]
}

// Median is the middle value, of an even number the mean of the middle two, and 0 of none. It puts
// x out of order.
func Median(x []float64) float64 {
	n := len(x)
	if n == 0 {
		return 0
	}
	m := Select(x, n/2)
	if n%2 == 0 {
		m = (slices.Max(x[:n/2]) + m) / 2
	}
	return m
}

// Quantile is the value below which the share q of the values lies, 0 to 1, never between two of
// them. It puts x out of order, which must not be empty.
func Quantile(x []float64, q float64) float64 { return Select(x, int(q*float64(len(x)))) }

// FromMAD makes the median absolute deviation of a normal law its standard deviation: 1/Phi^-1(3/4).
const FromMAD = 1.4826

// RobustSD is the standard deviation that absolute deviations show of which up to half may be
// anything: FromMAD times their median. It puts them out of order.
func RobustSD(deviations []float64) float64 { return FromMAD * Median(deviations) }

// MedianOffset is where a line of a slope through the median of the points lies at x = 0.
func MedianOffset(x, y []float64, slope float64) float64 {
	rest := make([]float64, len(x))
	for i := range x {
		rest[i] = y[i] - slope*x[i]
	}
	return Median(rest)
}
