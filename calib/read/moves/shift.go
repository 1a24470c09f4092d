package moves

import (
	"math"

	"leadmark/vision/ruler"
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

// Zoomed says whether the scene grew or shrank by more than a turned camera makes it, px at the rim.
func Zoomed(d ruler.Shift) bool {
	turned := math.Hypot(d.Move.Len()/focal, d.Turned)
	return math.Abs(d.Grown) > nearer*turned+max(leastWarp, warpSure*math.Sqrt(d.Cov[3][3]))
}
