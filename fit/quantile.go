package fit

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// students is Student's t quantile for two-sided 95 %; the normal's for df beyond any count.
func students(df float64) float64 {
	if df > 1e8 || math.IsInf(df, 1) {
		return normalQuantile(0.975)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(0.975)
}

// normalQuantile is the standard normal quantile.
func normalQuantile(q float64) float64 { return -math.Sqrt2 * math.Erfcinv(2*q) }

// normal is one component of a mixture.
type normal struct{ mass, mean, sd float64 }

// quantile solves for the value below which the mixture holds probability q.
func quantile(mix []normal, q float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range mix {
		lo, hi = math.Min(lo, c.mean-12*c.sd), math.Max(hi, c.mean+12*c.sd)
	}
	x, mean, sd := 0.0, 0.0, 0.0
	for _, c := range mix {
		mean += c.mass * c.mean
		sd += c.mass * c.sd
	}
	x = mean + sd*normalQuantile(q)
	for i := 0; i < 200 && hi-lo > 1e-15*math.Abs(x); i++ {
		f, df := -q, 0.0
		for _, c := range mix {
			z := (x - c.mean) / math.Max(c.sd, 1e-300)
			f += c.mass * 0.5 * math.Erfc(-z/math.Sqrt2)
			df += c.mass * math.Exp(-z*z/2) / (math.Max(c.sd, 1e-300) * math.Sqrt(2*math.Pi))
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
