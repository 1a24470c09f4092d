package looks

import (
	"math"

	"leadmark/vision/synth/paint"
)

// Distance returns the distance of (u, v) from the ruler's outline, positive outside, hole apart.
func (l *Look) Distance(u, v float64) float64 {
	half := l.Length / 2
	x := math.Abs(u - l.Front() - half)
	y := math.Abs(v)
	dx, dy := x-half+l.Round, y-l.Width/2+l.Round
	d := max(dx, dy)
	if dx > 0 && dy > 0 { // beyond a corner
		d = math.Sqrt(dx*dx + dy*dy)
	}
	d -= l.Round
	if l.Chamfer > 0 {
		d = max(d, (x-half+y-l.Width/2+l.Chamfer)/math.Sqrt2)
	}
	return d
}

// Body returns the part of a box of size f around (u, v) that the ruler's body fills, and the
// distance from its edges (negative inside).
func (l *Look) Body(u, v, f float64) (cover, d float64) {
	d = l.Distance(u, v)
	if l.Hole != nil {
		d = max(d, l.Hole.Radius-math.Hypot(u-l.Hole.At, v))
	}
	return max(0, min(1, 0.5-d/f)), d
}

// Colour returns the ruler's colour at a place of its face, without gloss, and its opacity.
func (l *Look) Colour(u, v, d, ink float64, seed uint32) (paint.RGB, float64) {
	base, opacity := l.Base, l.Opacity
	if l.Grain != Smooth {
		base = base.Mul(l.grainAt(u, v, seed))
	}
	if l.Bevel > 0 {
		base = base.Mul(l.bevel(v, d))
	}
	if opacity < 1 { // the cut edge of a clear ruler gathers light
		opacity = min(1, opacity+0.6*math.Exp(d/(0.35*mm)))
	}
	if b := l.Band; b != nil {
		base, opacity = b.over(base, opacity, u, 0.05*mm)
	}
	if l.Hook > 0 && u-l.Front() < l.Hook {
		return paint.Grey(0.42 * (1 + 0.3*paint.Noise(u/(0.3*mm), v/(2*mm), seed+5))), 1
	}
	if ink > 0 {
		ink *= l.wearAt(u, v, seed)
		// What is part ink and part clear shows as much of either as it covers.
		both := opacity*(1-ink) + ink
		base = base.Mul(opacity * (1 - ink) / both).Add(l.Ink.Mul(ink / both))
		opacity = both
	}
	return base, opacity
}

// bevel shades the long edges, one lighter and one darker, as a slope towards the edge does.
func (l *Look) bevel(v, d float64) float64 {
	slope := max(0, 1+(math.Abs(v)-l.Width/2)/(0.22*l.Width))
	k := 1 + 0.5*l.Bevel*math.Copysign(slope, -v)
	if d < -2*mm {
		return k
	}
	return k * (1 - 0.5*l.Bevel*math.Exp(d/(0.25*mm)))
}

// over lays the band on a colour; its edges are drawn soft over f metres.
func (b *Band) over(c paint.RGB, opacity, u, f float64) (paint.RGB, float64) {
	t := overlap(u, f, b.At, b.At+b.Width) / f
	return paint.Mix(c, b.Colour, t), opacity + (1-opacity)*t
}
