package fit

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/fit/stat"
)

// FromInterval restores an Estimate of which only value, standard uncertainty and a 95 % interval were
// kept: the degrees of freedom are those whose Student factor is the interval's half-width over U.
func FromInterval(value, u float64, iv Interval) Estimate {
	e := Estimate{Value: value, U: u, DF: ManyDF, Interval95: iv}
	half := (iv.High - iv.Low) / 2
	if !(u > 0) || half <= stat.T95(ManyDF)*u {
		return e
	}
	lo, hi := math.Log(0.3), math.Log(ManyDF)
	for i := 0; i < 80; i++ {
		if mid := (lo + hi) / 2; stat.T95(math.Exp(mid))*u > half {
			lo = mid
		} else {
			hi = mid
		}
	}
	e.DF = math.Exp((lo + hi) / 2)
	return e
}

// SpreadFromInterval restores a spread of which only value and 95 % interval were kept: the degrees of
// freedom are those whose chi-squared interval has the same upper end.
func SpreadFromInterval(value float64, iv Interval) Estimate {
	e := Estimate{Value: value, Interval95: iv, DF: 1}
	if !(value > 0) || !(iv.High > value) {
		e.U = iv.High / 2
		return e
	}
	lo, hi := math.Log(0.1), math.Log(ManyDF)
	for i := 0; i < 80; i++ {
		mid := (lo + hi) / 2
		df := math.Exp(mid)
		if value*math.Sqrt(df/(distuv.ChiSquared{K: df}).Quantile(0.025)) > iv.High {
			lo = mid
		} else {
			hi = mid
		}
	}
	e.DF = math.Exp((lo + hi) / 2)
	e.U = value / math.Sqrt(2*e.DF)
	return e
}
