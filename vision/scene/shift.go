package scene

import (
	"math"

	"leadmark/vision/ruler"
)

// unmoved is the shift, px, up to which nobody asks whether all parts moved alike.
const unmoved = 2.0

// Shift says how far the scene of b lies from that of a and, where that is a move, whether all
// parts of the picture moved alike. ok is false where the two cannot be compared.
func Shift(a, b ruler.Backdrop) (s ruler.Shift, ok bool) {
	s.Move, s.U, ok = shiftOf(a, b)
	if !ok || s.Move.Len() < max(unmoved, 4*s.U) {
		return s, ok
	}
	seen := [4]bool{}
	for k := range seen {
		part := quarterOf(a, k)
		move, u, ok := shiftOf(part, b)
		// A quarter that shows next to nothing says nothing.
		if !ok || u > max(1, 0.3*s.Move.Len()) {
			continue
		}
		seen[k] = true
		if d := move.Sub(s.Move).Len(); d > s.Warp {
			s.Warp, s.WarpU = d, math.Hypot(u, s.U)
		}
	}
	s.Whole = seen[0] && seen[3] || seen[1] && seen[2]
	return s, true
}

// quarterOf is a backdrop with all but one quarter hidden.
func quarterOf(b ruler.Backdrop, k int) ruler.Backdrop {
	out := b
	out.Hidden = make([]bool, len(b.Hidden))
	for y := range b.Height {
		for x := range b.Width {
			i := y*b.Width + x
			out.Hidden[i] = b.Hidden[i] || (2*x >= b.Width) != (k%2 == 1) || (2*y >= b.Height) != (k >= 2)
		}
	}
	return out
}
