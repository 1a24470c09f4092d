package plan

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Known is how well a law's mean and standard deviation are known, where they were learned from a few animals. Its zero value takes both
// as exact.
type Known struct {
	U  float64 // standard uncertainty of the mean
	DF float64 // degrees of freedom of the standard deviation; 0 where it is exact
}

// next is the law of the next trip's value: Student's t about the mean, with the scale sqrt(sd^2 + u^2). For n equal animals u is sd/sqrt(n)
// and DF n - 1: the law of the textbook's prediction interval. It is normal where the standard deviation is exact.
func (k Known) next(mean, sd float64) LagLaw {
	return LagLaw{Mean: mean, Scale: math.Hypot(sd, k.U), DF: k.DF}
}

// mean is that of the law cut off at zero: for the t about m of scale s, m + s (nu + c^2)/(nu - 1) f(c)/(1 - F(c)), c = -m/s, by integrating x f(x).
func (l LagLaw) mean() float64 {
	if l.DF == 0 || l.Scale == 0 {
		return cutMean(l.Mean, l.Scale)
	}
	t := distuv.StudentsT{Sigma: 1, Nu: l.DF}
	c := -l.Mean / l.Scale
	return l.Mean + l.Scale*(l.DF+c*c)/(l.DF-1)*t.Prob(c)/(1-t.CDF(c))
}
