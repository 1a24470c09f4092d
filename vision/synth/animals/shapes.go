package animals

import "math"

// Kind is what an animal looks like.
type Kind int

// The kinds there are.
const (
	Bee Kind = iota
	Hopper
	Runner
)

type rgb [3]float64 // linear light

// part is a piece of a body, in body lengths: u ahead from the nose, v up.
type part struct {
	u, v, ru, rv, turn float64 // ellipse; of a limb, its first point, its second in ru, rv
	limb               float64 // thickness of a limb, 0 for an ellipse
	colour, bands      rgb
	banded             float64 // bands per body length
	opacity            float64
	body               bool // counts for the nose
}

func limb(u0, v0, u1, v1, thick float64, c rgb) part {
	return part{u: u0, v: v0, ru: u1, rv: v1, limb: thick, colour: c, opacity: 1}
}

// parts lists a kind's pieces from behind to the front.
func parts(k Kind) []part {
	black, amber, brown, grey := rgb{0.02, 0.018, 0.015}, rgb{0.5, 0.27, 0.04}, rgb{0.16, 0.08, 0.03},
		rgb{0.35, 0.33, 0.3}
	straw := rgb{0.45, 0.36, 0.16}
	switch k {
	case Hopper:
		return []part{
			limb(-0.55, -0.02, -0.8, 0.22, 0.05, straw), limb(-0.8, 0.22, -0.95, -0.2, 0.03, brown),
			limb(-0.3, -0.08, -0.22, -0.25, 0.03, brown), limb(-0.45, -0.08, -0.5, -0.26, 0.03, brown),
			limb(-0.03, 0.04, 0.1, 0.12, 0.014, brown),
			{u: -0.55, v: 0.02, ru: 0.45, rv: 0.12, turn: 0.03, colour: straw, bands: brown, banded: 9,
				opacity: 1, body: true},
			{u: -0.13, v: 0, ru: 0.13, rv: 0.13, colour: amber, opacity: 1, body: true},
			{u: -0.08, v: 0.05, ru: 0.035, rv: 0.035, colour: black, opacity: 1},
		}
	case Runner:
		return []part{
			limb(-0.3, -0.08, -0.15, -0.24, 0.028, black), limb(-0.45, -0.08, -0.5, -0.26, 0.028, black),
			limb(-0.6, -0.08, -0.82, -0.24, 0.028, black),
			limb(-0.03, 0.02, 0.14, 0.1, 0.014, brown),
			{u: -0.62, v: 0.02, ru: 0.38, rv: 0.15, colour: brown, bands: amber, banded: 5, opacity: 1, body: true},
			{u: -0.25, v: 0, ru: 0.13, rv: 0.12, colour: amber, bands: brown, banded: 12, opacity: 1, body: true},
			{u: -0.09, v: 0, ru: 0.09, rv: 0.085, colour: brown, opacity: 1, body: true},
		}
	}
	return []part{
		limb(-0.25, -0.12, -0.2, -0.32, 0.03, black), limb(-0.32, -0.14, -0.36, -0.36, 0.03, black),
		limb(-0.42, -0.13, -0.56, -0.33, 0.035, black),
		limb(-0.04, 0.06, 0.08, 0.16, 0.016, black), limb(-0.05, 0.04, 0.1, 0.08, 0.016, black),
		{u: -0.62, v: 0, ru: 0.38, rv: 0.19, turn: 0.05, colour: amber, bands: black, banded: 11, opacity: 1,
			body: true},
		{u: -0.3, v: 0.03, ru: 0.18, rv: 0.2, colour: amber, bands: brown, banded: 31, opacity: 1, body: true},
		{u: -0.12, v: 0, ru: 0.12, rv: 0.14, colour: black, bands: brown, banded: 23, opacity: 1, body: true},
		{u: -0.5, v: 0.27, ru: 0.32, rv: 0.085, turn: -0.35, colour: grey, opacity: 0.45},
	}
}

// inside tells whether a place of the body's plane lies in a part.
func (p *part) inside(u, v float64) bool {
	if p.limb > 0 {
		du, dv := p.ru-p.u, p.rv-p.v
		t := max(0, min(1, ((u-p.u)*du+(v-p.v)*dv)/(du*du+dv*dv)))
		return math.Hypot(u-p.u-t*du, v-p.v-t*dv) < p.limb/2
	}
	s, c := math.Sincos(p.turn)
	x, y := c*(u-p.u)+s*(v-p.v), c*(v-p.v)-s*(u-p.u)
	return x*x/(p.ru*p.ru)+y*y/(p.rv*p.rv) < 1
}

// shade is a part's colour at a place: bands, fur, and light from above.
func (p *part) shade(u, v float64, seed uint32) rgb {
	c := p.colour
	if p.banded > 0 {
		t := 0.5 + 0.5*math.Sin(2*math.Pi*p.banded*u+4*v+float64(seed%7))
		for i := range c {
			c[i] += t * t * (p.bands[i] - c[i])
		}
	}
	k := (0.85 + 1.2*(v-p.v)) * (0.75 + 0.5*grain(u*60, v*60, seed))
	if p.limb > 0 {
		k = 1
	}
	for i := range c {
		c[i] *= max(0.3, k)
	}
	return c
}

// at lays the parts over each other at a place.
func at(all []part, u, v float64, seed uint32) (c rgb, alpha float64) {
	for i := range all {
		p := &all[i]
		if !p.inside(u, v) {
			continue
		}
		s := p.shade(u, v, seed)
		for j := range c {
			c[j] = c[j]*(1-p.opacity) + s[j]*p.opacity
		}
		alpha = alpha*(1-p.opacity) + p.opacity
	}
	return c, alpha
}

// grain is smooth noise in [0, 1].
func grain(x, y float64, seed uint32) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int32(fx), int32(fy)
	x, y = x-fx, y-fy
	at := func(i, j int32) float64 {
		h := uint32(i)*0x9E3779B1 ^ uint32(j)*0x85EBCA77 ^ seed*0xC2B2AE3D
		h ^= h >> 15
		h *= 0x2C1B3C6D
		h ^= h >> 13
		return float64(h) / (1 << 32)
	}
	a, b := at(ix, iy)*(1-x)+at(ix+1, iy)*x, at(ix, iy+1)*(1-x)+at(ix+1, iy+1)*x
	return a*(1-y) + b*y
}
