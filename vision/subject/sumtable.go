package subject

// sums is a table of sums over all pixels above and to the left.
type sums struct {
	w, h int
	v    []float64
}

func newSums(w, h int) *sums { return &sums{w, h, make([]float64, (w+1)*(h+1))} }

// put sets a pixel; all are set, row by row.
func (s *sums) put(x, y int, v float64) {
	k := s.w + 1
	i := (y+1)*k + x + 1
	s.v[i] = v + s.v[i-1] + s.v[i-k] - s.v[i-k-1]
}

// in is the sum over a box, the far sides not included.
func (s *sums) in(x0, y0, x1, y1 int) float64 {
	x0, y0, x1, y1 = max(0, x0), max(0, y0), min(s.w, x1), min(s.h, y1)
	k := s.w + 1
	return s.v[y1*k+x1] - s.v[y0*k+x1] - s.v[y1*k+x0] + s.v[y0*k+x0]
}
