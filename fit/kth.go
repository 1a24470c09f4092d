package fit

// Kth returns the value that k others come before in order, and puts x out of order (Hoare, Commun. ACM 4 (1961) 321). x must hold
// a value and no NaN; a k outside of it counts as its first or last place.
func Kth[T float32 | float64](x []T, k int) T {
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
