package fit

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	gonum "gonum.org/v1/gonum/stat"

	"leadmark/fit/stat"
	"leadmark/testdata"
)

// NIST StRD, univariate: certified mean and standard deviation, as advances of one condition are
// summarised.
func TestSummariseNIST(t *testing.T) {
	for _, c := range []struct {
		name         string
		relMean, rel float64
	}{{"NumAcc1", 1e-15, 1e-15}, {"NumAcc2", 1e-14, 1e-13}, {"NumAcc3", 1e-15, 1e-9}, {"NumAcc4", 1e-15, 1e-8},
		{"Michelso", 1e-14, 1e-12}, {"Mavro", 1e-14, 1e-11}, {"Lew", 1e-13, 1e-13}} {
		var g AdvanceGroup
		g.summarise(column(testdata.NIST(t, c.name)), 0)
		testdata.Certifies(t, c.name, "Sample Mean", c.relMean, g.Mean.Value)
		testdata.Certifies(t, c.name, "Sample Standard Deviation", c.rel, g.SD)
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
		l := lineOf(kx, ky)
		testdata.Matches(t, c.example, testdata.Quantities{"a": l.a, "b": l.b})
		for i := range c.dropped {
			if k := sort.SearchInts(off, c.dropped[i]); k == len(off) || off[k] != c.dropped[i] {
				t.Errorf("%s: shot %d is not seen as far off", c.file, c.dropped[i])
			}
		}
	}
}

// JCGM 101:2008 9.2.2, 9.2.3 and 9.2.4: sums of four normal quantities, of four rectangular ones,
// and of four rectangular ones of which one is ten times as wide; 95 % +-3.91993 (exact),
// +-3.879407 (analytic), +-17.01 (numpy; u 10.147). They check the drawing and its quantiles as
// Propagate uses them.
func TestJCGM101(t *testing.T) {
	const m = 400000
	rng := rand.New(rand.NewPCG(drawSeed, 1))
	normal, flat, wide := make([]float64, m), make([]float64, m), make([]float64, m)
	for i := range normal {
		for k := 0; k < 4; k++ {
			normal[i] += rng.NormFloat64()
			flat[i] += math.Sqrt(3) * (2*rng.Float64() - 1)
			wide[i] += math.Sqrt(3) * (2*rng.Float64() - 1) * []float64{1, 1, 1, 10}[k]
		}
	}
	for _, c := range []struct {
		draws   []float64
		u, half float64
	}{{normal, 2, 3.91993}, {flat, 2, 3.879407}, {wide, math.Sqrt(103), 17.01}} {
		testdata.Within(t, "u", gonum.StdDev(c.draws, nil), c.u, 4*c.u/math.Sqrt(2*m))
		sort.Float64s(c.draws)
		testdata.Within(t, "97.5 %", c.draws[390000], c.half, 4*2.67*c.u/math.Sqrt(m))
	}
}
