package moves

import (
	"math"

	"leadmark/vision/ruler"
)

const (
	// leastMove is the least shift of the still scene, px, that counts as a move of the camera: what a
	// reading is good to.
	leastMove = 0.25
	// moveSure is how many standard uncertainties a shift must be to count, and surerMove where one
	// frame alone shows it.
	moveSure  = 6
	surerMove = 15
	// leastWarp, px, and warpSure standard uncertainties are what parts of the picture may move
	// otherwise than a turned camera's do.
	leastWarp = 0.8
	warpSure  = 4

	// What the backdrop cannot know. A tripod turns about its head, which carries the lens aside, and
	// then the backdrop moves less than the ruler before it. By how much depends on distances that
	// nobody states; these are taken for them as standard deviations, common practice, no source.

	// head is how far behind and below the lens the tripod's head is, m.
	head = 0.06
	// farther is by what part of its distance the backdrop stands behind the track.
	farther = 0.15
	// focal is the image distance in halves of the picture's diagonal: a lens of 60 mm before a sensor
	// of 24 mm by 16 mm, or of 100 mm before one of 36 mm by 24 mm.
	focal = 4.4
)

// Steady says whether a shift of the scene is none of the camera: nowhere in the picture is it one.
func Steady(d ruler.Shift) bool {
	_, sure := surest(d)
	return sure < moveSure
}

// surest is the move of the scene that is furthest beyond doubt, in the middle of the picture or half
// way out, px, and how many standard uncertainties it is; 0 where it is less than counts.
func surest(d ruler.Shift) (far, sure float64) {
	for k := range 9 {
		at := d.Middle.Add(ruler.Point{X: float64(k%3-1) * d.Half / 2, Y: float64(k/3-1) * d.Half / 3})
		went := d.To(at).Sub(at)
		if l := went.Len(); l >= leastMove {
			if s := l / max(d.U(at, went.Unit()), 1e-9); s > sure {
				far, sure = l, s
			}
		}
	}
	return far, sure
}

// U is the standard uncertainty, px, of where a place of the track lies after a move, along the way
// of travel, where the track shows so many px a metre: that of the scene's move there, and what the
// lens was carried aside.
func U(d ruler.Shift, at, along ruler.Point, pxPerM float64) float64 {
	turned := 0.0
	if d.Half > 0 {
		turned = math.Hypot(d.Move.Dot(along)/focal, d.Turned) / d.Half
	}
	return math.Hypot(d.U(at, along), farther*head*pxPerM*turned)
}

// Warped says whether parts of the picture moved otherwise than a turned camera's do.
func Warped(d ruler.Shift) bool { return d.Warp > max(leastWarp, warpSure*d.WarpU) }

// Zoomed says whether the scene grew or shrank by more than a turned camera makes it, px at the rim:
// its lens comes nearer by a tenth of what it turns, of the distance.
func Zoomed(d ruler.Shift) bool {
	turned := math.Hypot(d.Move.Len()/focal, d.Turned)
	return math.Abs(d.Grown) > 0.1*turned+max(leastWarp, warpSure*math.Sqrt(d.Cov[3][3]))
}
