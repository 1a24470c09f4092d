package vision

// kth returns the k-th smallest value, counted from 0, and reorders v (Hoare 1961: partition, then only the part that
// holds it). v must not be empty or hold NaN.
func kth[T float32 | float64](v []T, k int) T {
	lo, hi := 0, len(v)-1
	for lo < hi {
		pivot := v[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for v[j] > pivot {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	return v[k]
}
