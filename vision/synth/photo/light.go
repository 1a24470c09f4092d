package photo

import (
	"math"
	"sort"
)

// Flash is one flash head and what the light does beside it.
type Flash struct {
	Head  Vec     // where the head is, m
	Power float64 // exposure: 1 shows a surface that gives back 0.9 of the light just below white
	Fill  float64 // light from all round, as a part of Power
	Pulse Pulse
}

// Pulse is the flash's light over time: a linear rise to the peak, then an exponential tail.
type Pulse struct {
	Rise, Tail float64 // s; the tail's time constant
	Cut        float64 // s after the peak at which a controlled head cuts the tail off; 0 for never
}

// TailFor returns the pulse without cut whose duration above a tenth of the peak (t0.1, ISO 2827)
// is t01. For a rise of r and a tail constant k, t0.1 = 0.9 r + k ln 10; r is taken as t01/20.
func TailFor(t01 float64) Pulse {
	r := t01 / 20
	return Pulse{Rise: r, Tail: (t01 - 0.9*r) / math.Ln10}
}

// light returns the light given off until t seconds after the start of the rise, not normalised.
func (p Pulse) light(t float64) float64 {
	if t <= 0 {
		return 0
	}
	if t < p.Rise {
		return t * t / (2 * p.Rise)
	}
	t -= p.Rise
	if p.Cut > 0 {
		t = min(t, p.Cut)
	}
	return p.Rise/2 + p.Tail*(1-math.Exp(-t/p.Tail))
}

// moments splits the pulse into n parts of equal light and returns the middle instant of each,
// counted from the effective instant, by which half the light is given off.
func (p Pulse) moments(n int) []float64 {
	end := p.Rise + 20*p.Tail
	total := p.light(end)
	at := func(part float64) float64 {
		low, high := 0.0, end
		for range 60 {
			mid := (low + high) / 2
			if p.light(mid) < part*total {
				low = mid
			} else {
				high = mid
			}
		}
		return (low + high) / 2
	}
	half := at(0.5)
	t := make([]float64, n)
	for i := range t {
		t[i] = at((float64(i)+0.5)/float64(n)) - half
	}
	sort.Float64s(t)
	return t
}

// Irradiance is the light on a surface at p of unit normal n (away from the camera), relative to
// one that faces the head at the distance of ref: cosine law and inverse square.
func (f Flash) Irradiance(p, n, ref Vec) float64 {
	l := f.Head.Sub(p)
	d2 := l.dot(l)
	c := max(0, -l.dot(n)/math.Sqrt(d2))
	r := f.Head.Sub(ref)
	return c*r.dot(r)/d2 + f.Fill
}

// glare is the mirror-like light at p towards the camera (half-vector model after Blinn, 1977).
func (f Flash) glare(p, n Vec, sharpness float64) float64 {
	h := f.Head.Sub(p).Unit().Add(p.Mul(-1).Unit()).Unit()
	return math.Pow(max(0, -h.dot(n)), sharpness)
}
