package claim

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Share is of how many something held, with the interval of Clopper and Pearson (Biometrika 26,
// 1934): quantiles of beta distributions.
func Share(held, of int) Figure {
	f := Figure{Value: math.NaN(), Low: 0, High: 1, N: of}
	if of <= 0 {
		return f
	}
	k, n := float64(held), float64(of)
	f.Value = k / n
	if held > 0 {
		f.Low = distuv.Beta{Alpha: k, Beta: n - k + 1}.Quantile(0.025)
	}
	if held < of {
		f.High = distuv.Beta{Alpha: k + 1, Beta: n - k}.Quantile(0.975)
	}
	return f
}

// Count is a number that has no uncertainty of its own, of so many tried.
func Count(n, of int) Figure {
	v := float64(n)
	return Figure{Value: v, Low: v, High: v, N: of}
}

// Quantile is the value that a share q of all errors keep below, with the interval between two of
// them in order (David and Nagaraja, Order Statistics, 7.1). NaN counts as the largest error.
func Quantile(q float64, errors []float64) Figure {
	n := len(errors)
	if n == 0 {
		return nothing()
	}
	v := worst(errors)
	slices.Sort(v)
	below := distuv.Binomial{N: float64(n), P: q}
	at := func(k int) float64 { return v[min(max(k, 0), n-1)] }
	low, high := 0, n-1
	for low < n && below.CDF(float64(low)) < 0.025 {
		low++
	}
	for high > 0 && below.CDF(float64(high-1)) > 0.975 {
		high--
	}
	return Figure{Value: at(int(math.Ceil(q*float64(n))) - 1), Low: at(low - 1), High: at(high), N: n}
}

// Spread is the root mean square of errors over their stated standard uncertainties, which is 1
// where those are right; its interval is of chi squared. NaN counts as infinite.
func Spread(ratios []float64) Figure {
	v := worst(ratios)
	if len(v) == 0 {
		return nothing()
	}
	sum, n := 0.0, float64(len(v))
	for _, r := range v {
		sum += r * r
	}
	chi := distuv.ChiSquared{K: n}
	return Figure{Value: math.Sqrt(sum / n), Low: math.Sqrt(sum / chi.Quantile(0.975)),
		High: math.Sqrt(sum / chi.Quantile(0.025)), N: len(v)}
}

// Mean is that of two or more independent values, with Student's interval. One NaN makes all of it
// NaN.
func Mean(v []float64) Figure {
	n := float64(len(v))
	if n < 2 {
		f := nothing()
		f.N = len(v)
		return f
	}
	mean, sd := stat.MeanStdDev(v, nil)
	half := sd / math.Sqrt(n) * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile(0.975)
	return Figure{Value: mean, Low: mean - half, High: mean + half, N: len(v)}
}

// Value is a figure found elsewhere with its standard uncertainty, from n samples.
func Value(v, u float64, n int) Figure {
	const k = 1.959964 // for 95 % of a normal distribution
	return Figure{Value: v, Low: v - k*u, High: v + k*u, N: n}
}

// worst is a copy in which NaN is infinite.
func worst(v []float64) []float64 {
	v = slices.Clone(v)
	for i, x := range v {
		if math.IsNaN(x) {
			v[i] = math.Inf(1)
		}
	}
	return v
}

// nothing is the figure of no sample.
func nothing() Figure { return Figure{Value: math.NaN(), Low: math.NaN(), High: math.NaN()} }
