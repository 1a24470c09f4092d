package predict

import "math"

// normalQuantile is the standard normal quantile of u in (0, 1) to seven digits: Wichura (1988),
// algorithm AS 241, routine PPND7, Applied Statistics 37, 477 to 484.
func normalQuantile(u float64) float64 {
	q := u - 0.5
	if math.Abs(q) <= 0.425 {
		r := 0.180625 - q*q
		return q * (((59.109374720*r+159.29113202)*r+50.434271938)*r + 3.3871327179) /
			(((67.187563600*r+78.757757664)*r+17.895169469)*r + 1)
	}
	r := u
	if q > 0 {
		r = 1 - u
	}
	z := tail(math.Sqrt(-math.Log(r)))
	if q < 0 {
		return -z
	}
	return z
}

func tail(r float64) float64 {
	if r <= 5 {
		r -= 1.6
		return (((0.17023821103*r+1.3067284816)*r+2.7568153900)*r + 1.4234372777) /
			((0.12021132975*r+0.73700164250)*r + 1)
	}
	r -= 5
	return (((0.017337203997*r+0.42868294337)*r+3.0812263860)*r + 6.6579051150) /
		((0.012258202635*r+0.24197894225)*r + 1)
}

// normalCDF is the standard normal distribution.
func normalCDF(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

// cutMean is the mean of a normal cut off at zero: mean + sd phi(c)/(1 - Phi(c)), c = -mean/sd
// (Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions 1, 13.10; from memory).
func cutMean(mean, sd float64) float64 {
	if sd == 0 {
		return mean
	}
	c := -mean / sd
	return mean + sd*math.Exp(-c*c/2)/math.Sqrt(2*math.Pi)/normalCDF(-c)
}
