package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// T95 is Student's t quantile for two-sided 95 %; the normal's for df beyond any count.
func T95(df float64) float64 {
	if df > 1e8 || math.IsInf(df, 1) {
		return NormalQuantile(0.975)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(0.975)
}

// NormalQuantile is the standard normal quantile.
func NormalQuantile(q float64) float64 { return -math.Sqrt2 * math.Erfcinv(2*q) }
