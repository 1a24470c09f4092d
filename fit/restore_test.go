package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"leadmark/fit/stat"
	"leadmark/testdata"
)

// What a history keeps of an estimate gives its degrees of freedom back.
func TestFromInterval(t *testing.T) {
	for _, df := range []float64{1.5, 4, 11.3, 200} {
		half := stat.T95(df) * 2e-4
		e := FromInterval(0.052, 2e-4, Interval{0.052 - half, 0.052 + half})
		testdata.Near(t, "df", e.DF, df, 1e-6)
	}
	chi := distuv.ChiSquared{K: 9}
	s := SpreadFromInterval(1e-3, Interval{1e-3 * math.Sqrt(9/chi.Quantile(0.975)),
		1e-3 * math.Sqrt(9/chi.Quantile(0.025))})
	testdata.Near(t, "df of a spread", s.DF, 9, 1e-6)
}
