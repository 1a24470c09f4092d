package photo

import (
	"math"

	"leadmark/vision/synth/paint"
)

const gripSpread = 0.025 // m, how far a grip sticks out beyond the ruler

const fingerRadius = 7.5 * mm

// tip returns the distance from a finger that comes in over one long edge, positive outside.
func tip(u, v, centre, inner float64) float64 {
	if v > inner {
		return math.Abs(u-centre) - fingerRadius
	}
	return math.Hypot(u-centre, v-inner) - fingerRadius
}

// distance returns the distance from the grip, positive outside, and the way across the nearest finger.
func (g *Grip) distance(u, v, half float64) float64 {
	if g.Kind == "clamp" {
		return max(math.Abs(u-g.At-9*mm)-9*mm, math.Abs(v)-half-6*mm)
	}
	if g.Kind == "sleeve" { // cloth that covers the ruler from here back
		return g.At + 1.2*mm*paint.Noise(v/(7*mm), 0.3, 77) - u
	}
	inner := half * 0.45
	d := tip(u, v, g.At+fingerRadius, inner)
	return min(d, tip(u, -v, g.At+fingerRadius+4*mm, inner*1.2))
}

func (g *Grip) near(u, v, reach, half float64) bool {
	return g.distance(u, v, half) < reach && math.Abs(v) < half+gripSpread
}

// at returns the grip's colour and coverage at a place of the ruler's plane.
func (g *Grip) at(u, v, f, half float64, seed uint32) (paint.RGB, float64) {
	d := g.distance(u, v, half)
	a := max(0, min(1, 0.5-d/f))
	if a == 0 || math.Abs(v) > half+gripSpread {
		return paint.RGB{}, 0
	}
	if g.Kind == "clamp" {
		return paint.Grey(0.07 * (1 + 0.5*paint.Noise(u/(4*mm), v/(1.5*mm), seed+21))), a
	}
	if g.Kind == "sleeve" {
		fold := paint.Cloud(u/(14*mm), v/(30*mm), 3, seed+23)
		weave := math.Sin(u/(0.13*mm)) * math.Sin(v/(0.13*mm))
		return paint.RGB{R: 0.06, G: 0.075, B: 0.13}.Mul(max(0.1, 1+0.6*fold+0.15*weave)), a
	}
	h := max(0, -d/fingerRadius)
	round := math.Sqrt(max(0.04, 1-(1-h)*(1-h)))
	skin := paint.RGB{R: 0.50, G: 0.27, B: 0.18}.Mul(round * (1 + 0.06*paint.Cloud(u/(1.2*mm), v/(0.8*mm), 2, seed+22)))
	return skin, a
}
