package moves

import (
	"math"

	"leadmark/vision/ruler"
)

const (
	// leastMove is the least shift of the still scene, px, that counts as a move of the camera:
	// less than that a tripod's own play makes.
	leastMove = 2.5
	// moveSure is how many standard uncertainties a shift must be to count, and surerMove where one
	// frame alone shows it.
	moveSure  = 6
	surerMove = 15
	// leastWarp, px, and warpSure standard uncertainties are what parts of the picture may move
	// otherwise than the whole before the camera counts as turned or zoomed.
	leastWarp = 0.8
	warpSure  = 4
	// parallax is the standard uncertainty of a measured move as a share of it: the scene by which
	// it is measured stands a tenth or so farther off than the ruler, and moves less when the
	// camera is carried aside, as much when it is turned. Common practice, no source.
	parallax = 0.06
)

// Steady says whether a shift of the scene is none of the camera.
func Steady(d ruler.Shift) bool { return d.Move.Len() < max(leastMove, moveSure*d.U) }

// apart is the shift from one place to another.
func apart(a, b ruler.Shift) ruler.Shift {
	return ruler.Shift{Move: b.Move.Sub(a.Move), U: math.Hypot(a.U, b.U), Warp: max(a.Warp, b.Warp),
		WarpU: math.Hypot(a.WarpU, b.WarpU),
		Whole: (a.Whole || a.Move == ruler.Point{}) && (b.Whole || b.Move == ruler.Point{})}
}

// U is a measured move's standard uncertainty as it bears on the ruler, px: with half of what a
// turn too small to be seen may do.
func U(d ruler.Shift) float64 {
	return math.Hypot(math.Hypot(d.U, d.WarpU/2), parallax*d.Move.Len())
}

// Warped says whether parts of the picture moved otherwise than the whole.
func Warped(d ruler.Shift) bool { return d.Warp > max(leastWarp, warpSure*d.WarpU) }
