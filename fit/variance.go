package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Variances is the outcome of a test on several groups of values.
type Variances struct {
	Statistic, DF1, DF2, P float64 // DF2 is 0 for Bartlett's chi-squared
}

// Bartlett tests groups of normal values for equal variances (Bartlett, Proc. R. Soc. A 160 (1937) 268; NIST/SEMATECH e-Handbook
// 1.3.5.7). It is quick to call what is only not normal unequal; BrownForsythe is not. ErrTooFew below two groups of two.
func Bartlett(groups [][]float64) (Variances, error) {
	if err := checkGroups(groups); err != nil {
		return Variances{}, err
	}
	k := float64(len(groups))
	var pooled, logs, inverse, total float64
	for _, g := range groups {
		df := float64(len(g) - 1)
		_, ss := meanSquares(g)
		pooled, total = pooled+ss, total+df
		logs, inverse = logs+df*math.Log(ss/df), inverse+1/df
	}
	v := Variances{DF1: k - 1}
	v.Statistic = (total*math.Log(pooled/total) - logs) / (1 + (inverse-1/total)/(3*(k-1)))
	v.P = distuv.ChiSquared{K: k - 1}.Survival(v.Statistic)
	return v, nil
}

// BrownForsythe is Levene's test about the medians (Brown and Forsythe, J. Am. Stat. Assoc. 69 (1974) 364; e-Handbook 1.3.5.10): an
// analysis of variance of the distances from the group's median. Errors as Bartlett.
func BrownForsythe(groups [][]float64) (Variances, error) {
	if err := checkGroups(groups); err != nil {
		return Variances{}, err
	}
	var far [][]float64
	for _, g := range groups {
		m := median(g)
		d := make([]float64, len(g))
		for i, v := range g {
			d[i] = math.Abs(v - m)
		}
		far = append(far, d)
	}
	return OneWay(far)
}

// OneWay is the one-way analysis of variance: do the group means differ (e-Handbook 1.3.5.4)? The first value is taken off before
// summing, which keeps large constant parts from eating digits. Errors as Bartlett.
func OneWay(groups [][]float64) (Variances, error) {
	if err := checkGroups(groups); err != nil {
		return Variances{}, err
	}
	base, n, grand := groups[0][0], 0.0, 0.0
	var means, sizes []float64
	within := 0.0
	for _, g := range groups {
		shifted := make([]float64, len(g))
		for i, v := range g {
			shifted[i] = v - base
		}
		m, ss := meanSquares(shifted)
		within += ss
		means, sizes = append(means, m), append(sizes, float64(len(g)))
		n, grand = n+float64(len(g)), grand+m*float64(len(g))
	}
	grand /= n
	between := 0.0
	for i, m := range means {
		between += sizes[i] * sq(m-grand)
	}
	v := Variances{DF1: float64(len(groups) - 1), DF2: n - float64(len(groups))}
	v.Statistic = between / v.DF1 / (within / v.DF2)
	v.P = distuv.F{D1: v.DF1, D2: v.DF2}.Survival(v.Statistic)
	return v, nil
}

func checkGroups(groups [][]float64) error {
	if len(groups) < 2 {
		return ErrTooFew
	}
	for _, g := range groups {
		if len(g) < 2 {
			return ErrTooFew
		}
	}
	return nil
}

// meanSquares is the mean and the sum of squares about it, in two passes.
func meanSquares(x []float64) (mean, ss float64) {
	for _, v := range x {
		mean += (v - x[0]) / float64(len(x))
	}
	mean += x[0]
	for _, v := range x {
		ss += sq(v - mean)
	}
	return mean, ss
}

func median(x []float64) float64 {
	y := slices.Clone(x)
	slices.Sort(y)
	if n := len(y); n%2 == 0 {
		return (y[n/2-1] + y[n/2]) / 2
	}
	return y[len(y)/2]
}
