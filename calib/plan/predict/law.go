package predict

import "gonum.org/v1/gonum/stat/distuv"

// Law is the predictive distribution of the next trip's value: Student's t about Mean with DF
// degrees of freedom, or the normal where DF is 0. A lag and a speed are cut off at zero.
type Law struct {
	Mean    float64
	Scale   float64 // of the t, or the normal's standard deviation
	DF      float64 // 0: normal
	Spread  float64 // of a lag: shot to shot, without the uncertainty of the mean
	MeanU   float64 // of a lag: standard uncertainty of the mean
	Assumed bool    // stated by a person, not measured
}

// AssumedLag is the law of a lag that nobody measured: normal, as stated.
func AssumedLag(lag, spread float64) Law {
	return Law{Mean: lag, Scale: spread, Spread: spread, Assumed: true}
}

// FewestDF is the degrees of freedom below which a spread says next to nothing: with fewer the
// predictive law has no variance.
const FewestDF = 2

// StandardQuantile is the quantile of the standardised law.
func (l Law) StandardQuantile(p float64) float64 {
	if l.DF == 0 || l.DF > 1e5 {
		return normalQuantile(p)
	}
	return distuv.StudentsT{Sigma: 1, Nu: l.DF}.Quantile(p)
}

// cdfT is the distribution of the standardised law.
func (l Law) cdfT(x float64) float64 {
	if l.DF == 0 || l.DF > 1e5 {
		return normalCDF(x)
	}
	return distuv.StudentsT{Sigma: 1, Nu: l.DF}.CDF(x)
}

// BelowZero is the share of the whole law that lies below zero, where it is cut off.
func (l Law) BelowZero() float64 {
	if l.Scale > 0 {
		return l.cdfT(-l.Mean / l.Scale)
	}
	return 0
}

// Quantile is the value below which a share p of trips fall, by the law cut off at zero.
func (l Law) Quantile(p float64) float64 {
	if l.Scale == 0 {
		return l.Mean
	}
	cut := l.BelowZero()
	return l.Mean + l.Scale*l.StandardQuantile(cut+p*(1-cut))
}

// CutMean is that of the law cut off at zero: for the t about m of scale s, m + s (nu + c^2)/(nu -
// 1) f(c)/(1 - F(c)), c = -m/s, by integrating x f(x).
func (l Law) CutMean() float64 {
	if l.DF == 0 || l.Scale == 0 {
		return cutMean(l.Mean, l.Scale)
	}
	t := distuv.StudentsT{Sigma: 1, Nu: l.DF}
	c := -l.Mean / l.Scale
	return l.Mean + l.Scale*(l.DF+c*c)/(l.DF-1)*t.Prob(c)/(1-t.CDF(c))
}
