package claim

// Those are the samples that something holds of.
func Those[T any](list []T, holds func(x *T) bool) (out []T) {
	for i := range list {
		if holds(&list[i]) {
			out = append(out, list[i])
		}
	}
	return out
}

// ShareOf is the share of samples that something holds of.
func ShareOf[T any](list []T, holds func(x *T) bool) Figure {
	return Share(len(Those(list, holds)), len(list))
}

// Values lists a value of each sample.
func Values[T any](list []T, of func(x *T) float64) []float64 {
	v := make([]float64, len(list))
	for i := range list {
		v[i] = of(&list[i])
	}
	return v
}

// Sizes are values without their signs.
func Sizes(v []float64) []float64 {
	return Values(v, func(x *float64) float64 { return max(*x, -*x) })
}
