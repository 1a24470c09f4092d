package crops

import (
	"math"

	"leadmark/vision/synth/texture"
)

// A flash is at its brightest at once and fades by half-lives; a head at low power is cut off before it
// has faded (common practice, no source). The ruler is where it is drawn when half of the light is given off.

// part is a part of the flash's light: how much, and from where to where the ruler goes meanwhile, mm
// ahead of where it is drawn.
type part struct{ share, from, to float64 }

// flash parts the light into quarters, each as an even one of the same mean and variance.
func (s *Scene) flash() []part {
	if s.Fade == 0 || s.Motion*s.Pose.PxPerMM < 1 {
		return []part{{1, -s.Motion / 2, s.Motion / 2}}
	}
	const parts = 4
	c := s.Fade
	when := func(given float64) float64 { return -math.Log(1-given*(1-math.Exp(-c))) / c } // of so much of the light
	out := make([]part, parts)
	for k := range out {
		a := when(float64(k) / parts)
		w := when(float64(k+1)/parts) - a
		// Mean and variance of an exponential law cut off at w.
		e := math.Exp(-c * w)
		mean, sd := a+1/c-w*e/(1-e), math.Sqrt(1/(c*c)-w*w*e/((1-e)*(1-e)))
		mid, way := s.Motion*(mean-when(0.5)), s.Motion*sd*math.Sqrt(3)
		out[k] = part{1.0 / parts, mid - way, mid + way}
	}
	return out
}

// face lays the ruler over what is behind it. A place of the picture sees p rise while the ruler goes
// ahead.
func (s *Scene) face(face print, parts []part, behind texture.Colour, p, q, half float64) texture.Colour {
	var out texture.Colour
	for _, t := range parts {
		at, way := p+(t.from+t.to)/2, (t.to-t.from)/2
		long := math.Sqrt(half*half + way*way)
		c := behind
		if a := s.Ruler.body(at, q, long, half); a > 0 {
			c = c.Mix(s.surface(face, c, at, q, long, half), a)
		}
		for k := range out {
			out[k] += float32(t.share) * c[k]
		}
	}
	return out
}
