package vision

import (
	"math"
	"sync"
)

// A flash falls off about exponentially, so that an edge that moves is blurred by an exponential besides the Gaussian of lens and
// sensor. smearSteps are ratios of the exponential's decay length to the Gaussian's standard deviation, and smeared how much wider
// the Gaussian is that the fit of an edge then finds.

// smearSteps are for how many ratios that is worked out, smearStep apart.
const (
	smearSteps = 100
	smearStep  = 0.25
)

// smeared is worked out by the very fit that measures edges, on edges without noise.
var smeared = sync.OnceValue(func() *[smearSteps]float64 {
	var t [smearSteps]float64
	for i := range t {
		t[i] = fitSmeared(float64(i) * smearStep)
	}
	base := t[0]
	for i := range t {
		t[i] = max(t[i]/base, 1)
		if i > 0 {
			t[i] = max(t[i], t[i-1]+1e-6)
		}
	}
	return &t
})

// fitSmeared is the standard deviation found for an edge with a Gaussian of 2 px and a decay length of 2 ratio px.
func fitSmeared(ratio float64) float64 {
	const gauss = 2.0
	sigma := gauss * (1 + 0.4*ratio)
	var p piece
	for range 12 {
		f := &pieces{sigma: sigma, lo: 1, hi: 1}
		p = piece{sigma: sigma, lo: 0, hi: 1}
		for s := -f.half(); s <= f.half(); s += 0.25 {
			p.samples = append(p.samples, edgeSample{s, smearedStep(s+gauss*ratio*math.Ln2, gauss, gauss*ratio)})
		}
		for range 20 {
			p.improve(f, true)
		}
		if math.Abs(p.sigma-sigma) < 1e-3*sigma {
			break
		}
		sigma = p.sigma
	}
	return p.sigma
}

// smearedStep is a step blurred by a Gaussian and an exponential: the distribution of the sum of the two (the exponentially
// modified Gaussian).
func smearedStep(x, sigma, tail float64) float64 {
	phi := func(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
	if tail < 0.02*sigma {
		return phi((x - tail) / sigma)
	}
	k := sigma / tail
	return phi(x/sigma) - math.Exp(k*k/2-x/tail)*phi(x/sigma-k)
}

// smearOf is the ratio of decay length to Gaussian by which an edge looks wider so many times.
func smearOf(wider float64) float64 {
	t := smeared()
	for i := 1; i < smearSteps; i++ {
		if wider < t[i] {
			return smearStep * (float64(i-1) + max(0, wider-t[i-1])/(t[i]-t[i-1]))
		}
	}
	return smearStep * (smearSteps - 1)
}

// widerBy is how many times wider an edge looks for a ratio of decay length to Gaussian.
func widerBy(ratio float64) float64 {
	t := smeared()
	x := ratio / smearStep
	i := int(x)
	if i >= smearSteps-1 {
		return t[smearSteps-1] * x / (smearSteps - 1)
	}
	return t[i] + (x-float64(i))*(t[i+1]-t[i])
}
