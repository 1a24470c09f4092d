package crops

import (
	"math"

	"leadmark/vision/synth/texture"
)

// Cover is something that lies on the ruler, in the ruler's coordinates.
type Cover struct {
	Kind   string // "finger", "tape", "clamp"
	P, Q   float64
	R      float64 // mm: half a finger's width; half a tape's or a clamp's length along the ruler
	Slant  float64 // mm along p for each along q
	FromQ  float64 // mm: a finger comes from there and ends at Q; a tape and a clamp reach from FromQ to Q
	Colour texture.Colour
	Clear  float64 // share of the light that a tape lets through
	grain  texture.Grain
}

// at is how much of the place is covered, and the cover's colour there.
func (c *Cover) at(p, q, half float64) (alpha float64, col texture.Colour) {
	d := p - c.P - c.Slant*(q-c.Q)
	if math.Abs(d) > c.R+half {
		return 0, col
	}
	if c.Kind == "finger" {
		return c.finger(d, q, half)
	}
	lo, hi := min(c.FromQ, c.Q), max(c.FromQ, c.Q)
	rough := 0.0
	if c.Kind == "tape" {
		rough = 0.4 * c.grain.At(q*1.5, c.P)
	}
	alpha = ramp(c.R+rough-math.Abs(d), half) * ramp(q-lo, half) * ramp(hi-q, half)
	light := 1 + 0.06*c.grain.Cloud(p*2, q*2)
	if c.Kind == "clamp" {
		light = 0.8 + 0.3*bevel(d/c.R) + 0.05*c.grain.At(p*5, q*5)
	}
	return alpha * (1 - c.Clear), c.Colour.Times(light)
}

// bevel is how light falls on a block with rounded sides, from -1 to 1.
func bevel(t float64) float64 { return math.Sqrt(max(0, 1-t*t*t*t)) }

// finger is a rounded tip and the shaft behind it.
func (c *Cover) finger(d, q, half float64) (float64, texture.Colour) {
	way := 1.0
	if c.FromQ > c.Q {
		way = -1
	}
	into := way * (c.Q - q) // how far behind the tip's foremost place, mm
	r := math.Abs(d)
	if into < c.R {
		r = math.Hypot(d, c.R-into)
	}
	if into < -half {
		return 0, c.Colour
	}
	round := math.Sqrt(max(0, 1-r*r/(c.R*c.R)))
	light := 0.35 + 0.65*round + 0.07*c.grain.Cloud(d*0.8, q*0.8) + 0.05*c.grain.At(d*3, q*3)
	for _, fold := range []float64{2.2, 2.5, 2.8} { // creases of a joint
		light -= 0.1 * texture.Bar(into+0.4*c.grain.At(d, fold), fold*c.R, fold*c.R+0.5, 0.4)
	}
	colour := c.Colour
	if nail := math.Hypot(d/(0.55*c.R), (into-0.9*c.R)/(0.65*c.R)); nail < 1 {
		colour = colour.Mix(texture.Colour{0.75, 0.55, 0.48}, 0.6*min(1, 6*(1-nail)))
		light += 0.1
	}
	return ramp(c.R-r, half), colour.Times(light)
}
