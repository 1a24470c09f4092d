package stat

import "math"

// Mixture is a distribution made of normal ones.
type Mixture []Normal

// Normal is one part of a Mixture, of the probability Mass.
type Normal struct{ Mass, Mean, SD float64 }

// Quantile solves for the value below which the mixture holds probability q.
func (mix Mixture) Quantile(q float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range mix {
		lo, hi = math.Min(lo, c.Mean-12*c.SD), math.Max(hi, c.Mean+12*c.SD)
	}
	x, mean, sd := 0.0, 0.0, 0.0
	for _, c := range mix {
		mean += c.Mass * c.Mean
		sd += c.Mass * c.SD
	}
	x = mean + sd*NormalQuantile(q)
	for i := 0; i < 200 && hi-lo > 1e-15*math.Abs(x); i++ {
		f, df := -q, 0.0
		for _, c := range mix {
			z := (x - c.Mean) / math.Max(c.SD, 1e-300)
			f += c.Mass * 0.5 * math.Erfc(-z/math.Sqrt2)
			df += c.Mass * math.Exp(-z*z/2) / (math.Max(c.SD, 1e-300) * math.Sqrt(2*math.Pi))
		}
		if f > 0 {
			hi = x
		} else {
			lo = x
		}
		next := x - f/df
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-x) <= 1e-14*math.Abs(x)+1e-12*sd {
			return next
		}
		x = next
	}
	return x
}
