package crops

import (
	"math"

	"leadmark/vision/synth/texture"
)

// Glare is a bright band across the ruler: what mirrors the flash.
type Glare struct{ At, Slant, Wide, Much float64 } // mm, mm a mm, mm, light added

// Mirror is something that the body reflects from one place on: its tone changes there, over a part
// of its width.
type Mirror struct{ At, Slant, Wide, Much, FromQ, ToQ float64 }

// Shade is where the light ends: Dark is the share that is left towards Way of At.
type Shade struct{ At, Slant, Wide, Dark, Way float64 }

// Lighting is how the ruler and what is behind it are lit.
type Lighting struct {
	Level    float64 // light of white
	Fall     [2]float64
	Glares   []Glare
	Mirrors  []Mirror
	Shades   []Shade
	ShadowBy [2]float64 // mm: how far the ruler's shadow on the backdrop lies aside
	Penumbra float64    // mm
	Shadow   float64    // share of the light that it takes
}

// glare is the light added at a place.
func (l *Lighting) glare(p, q float64) float64 {
	sum := 0.0
	for _, g := range l.Glares {
		if t := (p - g.At - g.Slant*q) / g.Wide; math.Abs(t) < 4 {
			sum += g.Much * math.Exp(-0.5*t*t*t*t)
		}
	}
	return sum
}

// mirror is what the body's tone is multiplied by.
func (l *Lighting) mirror(p, q float64) float64 {
	k := 1.0
	for _, m := range l.Mirrors {
		if q >= m.FromQ && q <= m.ToQ {
			k *= 1 + m.Much*texture.Edge(m.At+m.Slant*q-p, 0, m.Wide)
		}
	}
	return k
}

// lit is the share of the light that falls on a place.
func (l *Lighting) lit(p, q float64) float64 {
	k := 1.0
	for _, s := range l.Shades {
		k *= 1 - (1-s.Dark)*texture.Edge(s.Way*(p-s.At-s.Slant*q), 0, s.Wide)
	}
	return k
}

// even is the light of the whole picture at a place, from -0.5 to 0.5 each way.
func (l *Lighting) even(x, y float64) float64 {
	return l.Level * max(0.05, 1+l.Fall[0]*x+l.Fall[1]*y)
}
