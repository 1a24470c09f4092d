package scale

import (
	"math"
	"slices"
	"sort"

	"leadmark/fit/stat"
)

// lowerQuartile is for the longest lines' lengths: a numeral may seem to lengthen some
// but nothing shortens them.
func lowerQuartile(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	return s[(len(s)+1)/4]
}

// medianLength is the median of a class's lengths; of two the longer: what covers a line shortens
// it, and a middle between a whole and a covered one is neither's. Of more the median is safe from
// one, and the longer would favour what scatters.
func medianLength(v []float64) float64 {
	if len(v) == 2 {
		return max(v[0], v[1])
	}
	return stat.Median(slices.Clone(v))
}

// likelihood is the logarithm of how likely lengths are that scatter normally about the median of
// their class (the lower quartile of the longest), by the scatter that the median of them shows,
// but for a share of outliers, which have any length.
func likelihood(by [][]float64) float64 {
	sum := 0.0
	for i, class := range densities(by) {
		outliers := outlierShare
		if i == 0 {
			outliers = numbered
		}
		sum += mixed(class, outliers)
	}
	return sum
}

// withOutliers is the same with as many outliers in every class as suits them best.
func withOutliers(by [][]float64) float64 {
	all := densities(by)
	best := math.Inf(-1)
	for _, outliers := range []float64{outlierShare, 0.1, 0.2, 0.35, 0.5} {
		sum := 0.0
		for _, class := range all {
			sum += mixed(class, outliers)
		}
		best = max(best, sum)
	}
	return best
}

// everyNth is the same for lengths that come again after so many lines, less Schwarz's penalty for
// each further mean.
func everyNth(n []int, length []float64, every int) float64 {
	by := make([][]float64, every)
	for i, k := range n {
		c := (k%every + every) % every
		by[c] = append(by[c], length[i])
	}
	return withOutliers(by) - 0.5*float64(every-1)*math.Log(float64(len(n)))
}

// mixed is the logarithm of how likely lengths are of which a share are outliers.
func mixed(density []float64, outliers float64) float64 {
	sum := 0.0
	for _, d := range density {
		sum += math.Log((1-outliers)*d + outliers/anyLength)
	}
	return sum
}

// densities are the normal densities of lengths about the middle of their class, by the scatter
// that all show together.
func densities(by [][]float64) [][]float64 {
	var all []float64
	dev := make([][]float64, len(by))
	for i, v := range by {
		m := medianLength(v)
		if i == 0 && len(by) > 1 {
			m = lowerQuartile(v)
		}
		for _, x := range v {
			dev[i] = append(dev[i], math.Abs(x-m))
		}
		all = append(all, dev[i]...)
	}
	sd := max(leastGrain, stat.RobustSD(slices.Clone(all)))
	for _, class := range dev {
		for k, d := range class {
			class[k] = math.Exp(-0.5*d*d/(sd*sd)) / (sd * math.Sqrt(2*math.Pi))
		}
	}
	return dev
}
