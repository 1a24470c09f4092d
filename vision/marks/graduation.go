package marks

import "leadmark/fit"

// graduation is one graduation found along a profile.
type graduation struct {
	index  int
	t      float64 // px along the axis
	height float64 // of the filtered profile, grey levels
}

func medianHeight(graduations []graduation) float64 {
	h := make([]float64, len(graduations))
	for i, q := range graduations {
		h[i] = q.height
	}
	return fit.Median(h)
}

func meanIndex(graduations []graduation) float64 {
	var s float64
	for _, q := range graduations {
		s += float64(q.index)
	}
	return s / float64(len(graduations))
}

// lineThrough fits t = a + b index by least squares.
func lineThrough(graduations []graduation) (a, b float64) {
	m := meanIndex(graduations)
	var st, sxx, sxt float64
	for _, q := range graduations {
		x := float64(q.index) - m
		st += q.t
		sxx += x * x
		sxt += x * q.t
	}
	b = sxt / sxx
	return st/float64(len(graduations)) - b*m, b
}
