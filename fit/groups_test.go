package fit

import (
	"math"
	"slices"
	"testing"

	gonum "gonum.org/v1/gonum/stat"

	"leadmark/fit/onelag"
	"leadmark/fit/stat"
	"leadmark/testdata"
)

// differ tests whether groups of values differ, as the check of exposure settings does: each value
// is the lag of a push, exactly read, and each group but the first a column.
func differ(t *testing.T, groups [][]float64) (e onelag.Effect, s *solution) {
	t.Helper()
	sd, base := gonum.StdDev(slices.Concat(groups...), nil), groups[0][0] // large constant parts would eat digits
	run := Run{TripU: ptr(0)}
	cols := make([][]float64, len(groups)-1)
	for g, values := range groups {
		for _, v := range values {
			run.Shots = append(run.Shots, Shot{Speed: 1000, Advance: 1000 * (0.05 + 1e-3*(v-base)/sd)})
			for k := range cols {
				in := 0.0
				if k == g-1 {
					in = 1
				}
				cols[k] = append(cols[k], in)
			}
		}
	}
	l := newLayout(run)
	theta, _ := l.start()
	s = l.judge(theta, make([]bool, len(run.Shots)))
	e, ok := onelag.Effects(s.Fit, colLag, cols)
	if !ok {
		t.Fatal("not tested")
	}
	return e, s
}

// NIST StRD, analysis of variance: certified F. The allowed errors follow the sets' constant
// leading digits.
func TestSettingsAreOneWayNIST(t *testing.T) {
	for name, rel := range map[string]float64{"SmLs01": 1e-12, "SmLs04": 1e-8, "SmLs07": 5e-3,
		"AtmWtAg": 1e-8, "SiRstv": 1e-11} {
		groups := testdata.NISTGroups(t, name)
		e, s := differ(t, groups)
		between := testdata.Certified(t, name, "Between", 4) // degrees of freedom, sum of squares, mean square, F
		within := testdata.Certified(t, name, "Within", 3)
		testdata.Within(t, name+" between", float64(len(groups)-1), between[0], 0)
		testdata.Within(t, name+" within", float64(s.Spare()-len(groups)+1), within[0], 0)
		testdata.Near(t, name, e.F, between[3], rel)
		// R squared = SS between / SS total, through F.
		testdata.Certifies(t, name, "Certified R-Squared", rel, e.F*between[0]/(e.F*between[0]+within[0]))
	}
}

// GEAR, NIST e-Handbook 1.3.5.7 and 1.3.5.10: ten batches of ten. Brown and Forsythe's statistic is
// an analysis of variance of the distances from the group's median.
func TestSettingsOfGear(t *testing.T) {
	groups := gear(t)
	a, _ := differ(t, groups)
	var far [][]float64
	for _, g := range groups {
		m := stat.Median(slices.Clone(g))
		d := make([]float64, len(g))
		for i, v := range g {
			d[i] = math.Abs(v - m)
		}
		far = append(far, d)
	}
	b, _ := differ(t, far)
	testdata.Matches(t, "GEAR", testdata.Quantities{"Brown-Forsythe": b.F, "Brown-Forsythe p": b.P,
		"ANOVA F": a.F, "ANOVA p": a.P})
}

// gear reads the batches.
func gear(t *testing.T) [][]float64 {
	groups := make([][]float64, 10)
	for _, r := range testdata.Numbers(t, "nist/gear.csv") {
		k := int(r[1]) - 1
		groups[k] = append(groups[k], r[0])
	}
	return groups
}
