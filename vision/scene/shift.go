package scene

import (
	"math"

	"leadmark/vision/ruler"
)

// Shift says how the scene of b lies against that of a and, where that is a move, whether all parts
// of the picture moved alike. ok is false where the two cannot be compared.
func Shift(a, b ruler.Backdrop) (s ruler.Shift, ok bool) {
	if a.Width != b.Width || a.Height != b.Height || min(a.Width, a.Height) < shortestSide || len(a.Tone) != len(b.Tone) {
		return ruler.Shift{}, false
	}
	f := newAligner(a, b)
	if !f.roughly() || !f.run(0, 1, 2, 3, 4, 5) {
		return ruler.Shift{}, false
	}
	if s = f.shift(a.Scale); s.Move.Len()+math.Abs(s.Turned)+math.Abs(s.Grown) < unmoved || !f.beyondDoubt() {
		return s, true
	}
	f.parts(a, &s)
	return s, true
}

// shift is what was fitted, in pixels of the whole picture.
func (f *aligner) shift(scale float64) ruler.Shift {
	p := f.fitted
	at := func(v float64) float64 { return scale*(v+0.5) - 0.5 }
	s := ruler.Shift{Middle: ruler.Point{X: at(f.cx), Y: at(f.cy)}, Half: scale * f.half,
		Move:   ruler.Point{X: scale * p[0], Y: scale * p[1]},
		Turned: scale * p[2], Grown: scale * p[3], Lean: ruler.Point{X: scale * p[4], Y: scale * p[5]}}
	for i := range s.Cov {
		for k := range s.Cov {
			s.Cov[i][k] = scale * scale * f.cov[i][k]
		}
	}
	return s
}

// beyondDoubt says whether anything of the move is more than chance may make it.
func (f *aligner) beyondDoubt() bool {
	for p := range gain {
		if f.free[p] && math.Abs(f.fitted[p]) > doubtful*math.Sqrt(f.cov[p][p]) {
			return true
		}
	}
	return false
}

// parts asks each quarter of the picture by how much it moved otherwise than the whole.
func (f *aligner) parts(a ruler.Backdrop, s *ruler.Shift) {
	seen := [4]bool{}
	for k := range seen {
		part := *f
		part.spots = nil
		for _, p := range f.spots {
			if (p.x >= 0) == (k%2 == 1) && (p.y >= 0) == (k >= 2) {
				part.spots = append(part.spots, p)
			}
		}
		if !part.run(0, 1) {
			continue
		}
		u := a.Scale * math.Sqrt(part.cov[0][0]+part.cov[1][1])
		// A quarter that shows next to nothing says nothing.
		if u > max(1, tellsPart*s.Move.Len()) {
			continue
		}
		seen[k] = true
		if d := a.Scale * math.Hypot(part.fitted[0]-f.fitted[0], part.fitted[1]-f.fitted[1]); d > s.Warp {
			s.Warp, s.WarpU = d, u
		}
	}
	s.Whole = seen[0] && seen[3] || seen[1] && seen[2]
}
