package vision

import (
	"math"
	"sync"
)

// A flash falls off about exponentially, so that an edge that moves is blurred by an exponential besides the Gaussian of lens and
// sensor. How much wider the Gaussian is that the fit of an edge then finds depends on the ratio of the exponential's decay length
// to the Gaussian, and somewhat on the Gaussian itself, since the fit looks a few pixels further than the blur.
const (
	smearSteps  = 60  // ratios
	smearStep   = 0.4 // from ratio to ratio
	smearGauss  = 7   // Gaussians, each the root of two times the last
	leastGauss  = 0.5 // px
	smearRounds = 8
)

// smearTable is how many times wider the Gaussian found is, by Gaussian and ratio.
type smearTable [smearGauss][smearSteps]float64

// smeared is worked out by the very fit that measures edges, on edges without noise.
var smeared = sync.OnceValue(func() *smearTable {
	var all smearTable
	for g := range all {
		t := &all[g]
		gauss := leastGauss * math.Pow(2, float64(g)/2)
		for i := range t {
			start := gauss
			if i > 0 {
				start = t[i-1]
			}
			t[i] = fitSmeared(gauss, float64(i)*smearStep, start)
		}
		base := t[0]
		for i := range t {
			t[i] = max(t[i]/base, 1)
			if i > 0 {
				t[i] = max(t[i], t[i-1]+1e-6)
			}
		}
	}
	return &all
})

// fitSmeared is the standard deviation found for an edge with a Gaussian and a decay length of so many Gaussians; sigma is a guess.
func fitSmeared(gauss, ratio, sigma float64) float64 {
	var p piece
	for range smearRounds {
		f := &pieces{sigma: sigma}
		p = piece{sigma: sigma, lo: 0, hi: 1}
		for s := -f.half(); s <= f.half(); s += f.half() / 24 {
			p.samples = append(p.samples, edgeSample{s, smearedStep(s+gauss*ratio*math.Ln2, gauss, gauss*ratio)})
		}
		for range smearRounds {
			p.level(f.half())
		}
		if math.Abs(p.sigma-sigma) < 2e-3*sigma {
			break
		}
		sigma = p.sigma
	}
	return p.sigma
}

// tableFor is the table of the Gaussian nearest.
func tableFor(gauss float64) *[smearSteps]float64 {
	g := int(math.Round(2 * math.Log2(max(gauss, leastGauss)/leastGauss)))
	return &smeared()[min(g, smearGauss-1)]
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
func smearOf(gauss, wider float64) float64 {
	t := tableFor(gauss)
	for i := 1; i < smearSteps; i++ {
		if wider < t[i] {
			return smearStep * (float64(i-1) + max(0, wider-t[i-1])/(t[i]-t[i-1]))
		}
	}
	return smearStep * (smearSteps - 1)
}

// widerBy is how many times wider an edge looks for a ratio of decay length to Gaussian.
func widerBy(gauss, ratio float64) float64 {
	t := tableFor(gauss)
	x := ratio / smearStep
	i := int(x)
	if i >= smearSteps-1 {
		return t[smearSteps-1] * x / (smearSteps - 1)
	}
	return t[i] + (x-float64(i))*(t[i+1]-t[i])
}
