package fit

import (
	"math"
	"sort"
	"testing"

	gonum "gonum.org/v1/gonum/stat"

	"leadmark/fit/stat"
	"leadmark/testdata"
)

// NIST StRD, univariate: certified mean and standard deviation, as Lag reports the advances of pushes
// at one speed.
func TestAdvancesNIST(t *testing.T) {
	for _, c := range []struct {
		name         string
		relMean, rel float64
	}{{"NumAcc1", 1e-15, 1e-15}, {"NumAcc2", 1e-14, 1e-13}, {"NumAcc3", 1e-15, 1e-9}, {"NumAcc4", 1e-15, 1e-8},
		{"Michelso", 1e-14, 1e-12}, {"Mavro", 1e-14, 1e-11}, {"Lew", 1e-13, 1e-13}} {
		run := Run{}
		values := column(testdata.NIST(t, c.name))
		for _, v := range values { // read as poorly as they scatter, so that none is odd
			run.Shots = append(run.Shots, Shot{Speed: 1.5, Advance: v, AdvanceU: gonum.StdDev(values, nil)})
		}
		res, err := Lag(run)
		if err != nil || len(res.Advance) != 1 || res.Odd != nil {
			t.Fatalf("%s: %v, %+v, odd %+v", c.name, err, res.Advance, res.Odd)
		}
		testdata.Certifies(t, c.name, "Sample Mean", c.relMean, res.Advance[0].Mean.Value)
		testdata.Certifies(t, c.name, "Sample Standard Deviation", c.rel, res.Advance[0].SD)
	}
}

// Reweighted least trimmed squares of R robustbase 0.95-0 (ltsReg, nsamp = "exact"): the same shots
// dropped, the same line through the rest.
func TestReweightedLTS(t *testing.T) {
	for _, c := range []struct {
		file, example string
		x, y          int
		dropped       []int
	}{
		{"robust/stars.csv", "reweighted LTS stars", 0, 1, []int{7, 9, 11, 20, 30, 34}},
		{"robust/telephone.csv", "reweighted LTS telephone", 0, 1, []int{14, 15, 16, 17, 18, 19, 20, 21}},
		{"robust/stackloss.csv", "reweighted LTS stackloss", 0, 1, []int{1, 3, 4, 21}},
	} {
		x, y := testdata.Columns(t, c.file, c.x, c.y)
		fit := stat.LeastTrimmed(x, y, false)
		var off []int
		for i := range x {
			// 2.2414 is the normal 98.75 % quantile, the cut of that package.
			if math.Abs(y[i]-fit.A-fit.B*x[i]) > 2.2414*fit.Scale {
				off = append(off, i+1)
			}
		}
		t.Logf("%s: dropped %v, raw line %.6g %.6g, scale %.4g", c.file, off, fit.A, fit.B, fit.Scale)
		gone := map[int]bool{}
		for _, i := range c.dropped {
			gone[i] = true
		}
		var kx, ky []float64
		for i := range x {
			if !gone[i+1] {
				kx, ky = append(kx, x[i]), append(ky, y[i])
			}
		}
		l := lineOf(t, kx, ky)
		testdata.Matches(t, c.example, testdata.Quantities{"a": l.a, "b": l.b})
		for i := range c.dropped {
			if k := sort.SearchInts(off, c.dropped[i]); k == len(off) || off[k] != c.dropped[i] {
				t.Errorf("%s: shot %d is not seen as far off", c.file, c.dropped[i])
			}
		}
	}
}
