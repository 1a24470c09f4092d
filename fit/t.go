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
