package plan

import (
	"math"

	"leadmark/calib/plan/light"
	"leadmark/calib/rig"
)

// Focus is the aperture and what it makes of the picture's sharpness.
type Focus struct {
	Optics     Optics
	Stated     bool    // the f-number was asked for
	Limit      float64 // m on the sensor, the blur that counts as sharp
	Print      float64 // print over sensor
	PrintLong  float64 // m, long side of the print
	Far, Near  float64 // m, depths within which the blur of defocus is below Limit
	Depth      float64 // m, what must lie in focus on either side for a share p of trips
	Pace       float64 // m/s across the view, below which a share p of trips lie
	MidDepth   float64 // m, half the trips need no more depth than this
	MidPace    float64 // m/s, half the trips are no faster across the view
	Blur       Blur    // at that depth and pace: half the trips are no worse
	PixelPitch float64 // m; 0 where unknown
}

// Blur is every blur of the picture in one budget: diameters in metres on the sensor. The total is
// the root of the sum of squares, as of independent blurs (their variances add; that diameters do
// so too is common practice, no source).
type Blur struct {
	Motion                             float64
	Frozen                             bool // Motion is known
	Defocus, Diffraction, Pixel, Total float64
}

// focuser has what the choice of aperture rests on.
type focuser struct {
	lens      Optics // at the magnification, without an f-number
	depth     float64
	pace      float64
	deepest   float64 // depth and pace that all but a few trips stay within
	fastest   float64
	pixel     float64
	heads     []rig.Head
	iso       float64
	planLight bool
}

// blurAt is the budget at an f-number with the light it needs.
func (f focuser) blurAt(n float64) (Optics, Blur, light.Light) {
	o := f.lens
	o.FNumber = n
	b := Blur{Defocus: math.Max(o.Defocus(f.depth), o.Defocus(-f.depth)),
		Diffraction: o.Diffraction(), Pixel: f.pixel}
	var l light.Light
	if f.planLight {
		l = light.For(f.heads, o.EffectiveFNumber(), f.iso)
		if l.Longest != nil {
			b.Motion, b.Frozen = light.MotionBlur(f.pace, l.Longest.T01, o.Magnification), true
		}
	}
	b.Total = math.Sqrt(sq(b.Motion) + sq(b.Defocus) + sq(b.Diffraction) + sq(b.Pixel))
	return o, b, l
}

// choose takes of the f-numbers that lenses mark in thirds of a stop the one of the least total
// blur, among those for which the heads suffice where there are any: a wider one blurs by defocus,
// a narrower one by diffraction and, since it needs more power and so a longer flash, by motion.
// The blur is that of the median trip: to save the furthest few by a very narrow aperture would
// soften all of them.
func (f focuser) choose(widest, narrowest float64) float64 {
	best, least, bright := 0.0, math.Inf(1), false
	for _, n := range thirdStops(widest, narrowest) {
		_, b, l := f.blurAt(n)
		enough := !f.planLight || l.Short() < 1.0/6
		if enough && !bright || enough == bright && b.Total < least*(1-1e-9) {
			best, least, bright = n, b.Total, enough
		}
	}
	return best
}

// The f-numbers tried where rig.toml states none.
const (
	widestTried    = 1.4
	narrowestTried = 45
)

// raised is at an ISO so many stops higher.
func (f focuser) raised(stops int) focuser {
	f.iso *= math.Exp2(float64(stops))
	return f
}
