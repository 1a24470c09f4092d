package edge

import (
	"math"

	"leadmark/vision/animal"
)

// A flash falls off about exponentially, so an edge that moves is blurred by an exponential besides
// the Gaussian of lens and sensor. The light across it is then the distribution of the
// exponentially modified Gaussian (the sum of the two).

// blurred is that distribution at one place, and its derivatives by place, by the Gaussian and by
// the decay length.
type blurred struct{ step, density, bySigma, byTail float64 }

// blurredAt is the distribution at x, with a Gaussian of standard deviation sigma and an
// exponential of decay length tail that falls towards greater x or, where tail is negative, towards
// smaller. Its mean is at tail. The derivatives follow from step + tail density being the
// Gaussian's distribution, and from blur being diffusion: that by sigma is sigma times that of the
// density by x.
func blurredAt(x, sigma, tail float64) blurred {
	if tail < 0 {
		s := blurredAt(-x, sigma, -tail)
		return blurred{1 - s.step, s.density, -s.bySigma, s.byTail}
	}
	table := normals()
	if tail < leastTail*sigma {
		wide := math.Hypot(sigma, tail)
		z := (x - tail) / wide
		phi, step := table.at(z)
		density := phi / wide
		return blurred{step, density, -density * z * sigma / wide, -density * (1 + z*tail/wide)}
	}
	k := sigma / tail
	phi, gauss := table.at(x / sigma)
	far := 0.0
	if up := k*k/2 - x/tail; up < 700 {
		far = math.Exp(up) * 0.5 * math.Erfc((k-x/sigma)/math.Sqrt2)
	}
	density := far / tail
	return blurred{gauss - far, density, sigma / tail * (phi/sigma - density), -(far*(x-k*sigma)/tail + phi*k) / tail}
}

// blur is what blurs all edges of an animal: a Gaussian and the vector of an exponential's decay;
// px.
type blur struct{ sigma, x, y float64 }

func (m blur) moves() bool { return m.x != 0 || m.y != 0 }

// tail is the part of the exponential across an edge.
func (m blur) tail(inward animal.Point) float64 { return m.x*inward.X + m.y*inward.Y }

// reach is how wide edges are by it, for profiles that are to hold them.
func (m blur) reach() tensor {
	const more = tailReach * tailReach
	return tensor{m.sigma*m.sigma + more*m.x*m.x, more * m.x * m.y, m.sigma*m.sigma + more*m.y*m.y}
}

// stepped goes a step, held short.
func (m blur) stepped(ds, dx, dy float64) blur {
	long := 0.5*m.sigma + stepShare*math.Hypot(m.x, m.y)
	k := 1 / max(1, math.Abs(ds)/(stepShare*m.sigma), math.Hypot(dx, dy)/long)
	return blur{max(leastGauss, min(widestEdge, m.sigma+k*ds)), m.x + k*dx, m.y + k*dy}
}
