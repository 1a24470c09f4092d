package predict

import "math"

// Known is how well a law's mean and standard deviation are known, where they were learned from a
// few animals. Its zero value takes both as exact.
type Known struct {
	U  float64 // standard uncertainty of the mean
	DF float64 // degrees of freedom of the standard deviation; 0 where it is exact
}

// Next is the law of the next trip's value: Student's t about the mean, with the scale sqrt(sd^2 +
// u^2). For n equal animals u is sd/sqrt(n) and DF n - 1: the law of the textbook's prediction
// interval. It is normal where the standard deviation is exact.
func (k Known) Next(mean, sd float64) Law {
	return Law{Mean: mean, Scale: math.Hypot(sd, k.U), DF: k.DF}
}
