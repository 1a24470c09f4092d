package shoot

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// BinomialP is the exact two-sided p-value of k successes in n trials where each has the chance p:
// the chance of all outcomes that are no more likely than k (as R's binom.test). It is 1 for n = 0.
func BinomialP(k, n int, p float64) float64 {
	if n <= 0 {
		return 1
	}
	b := distuv.Binomial{N: float64(n), P: p}
	switch {
	case p <= 0 || p >= 1: // only one outcome can be
		if float64(k) == p*float64(n) {
			return 1
		}
		return 0
	}
	at := b.LogProb(float64(k)) + 1e-7 // outcomes as likely but for rounding count
	sum := 0.0
	for i := range n + 1 {
		if l := b.LogProb(float64(i)); l <= at {
			sum += math.Exp(l)
		}
	}
	return min(1, sum)
}

// BinomialInterval is the exact 95 % interval of a chance after k successes in n trials (Clopper
// and Pearson 1934).
func BinomialInterval(k, n int) [2]float64 {
	lo, hi := 0.0, 1.0
	if k > 0 {
		lo = distuv.Beta{Alpha: float64(k), Beta: float64(n - k + 1)}.Quantile(0.025)
	}
	if k < n {
		hi = distuv.Beta{Alpha: float64(k + 1), Beta: float64(n - k)}.Quantile(0.975)
	}
	return [2]float64{lo, hi}
}
