package fit

import (
	"fmt"
	"slices"
	"testing"

	gonum "gonum.org/v1/gonum/stat"

	"leadmark/fit/onelag"
	"leadmark/testdata"
)

// differ is what Lag reports of exposure settings: each value is the lag of a push, exactly read, each
// group a setting.
func differ(t *testing.T, groups [][]float64) onelag.Check {
	t.Helper()
	sd, base := gonum.StdDev(slices.Concat(groups...), nil), groups[0][0] // large constant parts would eat digits
	run := Run{TripU: ptr(0)}
	for g, values := range groups {
		for _, v := range values {
			run.Shots = append(run.Shots, Shot{Speed: 1000, Advance: 1000 * (0.05 + 1e-3*(v-base)/sd),
				Setting: fmt.Sprintf("setting %02d", g)})
		}
	}
	res, err := Lag(run)
	if err != nil || res.Odd != nil {
		t.Fatalf("%v, odd %+v", err, res.Odd)
	}
	for _, c := range res.Checks {
		if c.Name == "setting" && c.Tested {
			return c
		}
	}
	t.Fatalf("not tested: %+v", res.Checks)
	return onelag.Check{}
}

// NIST StRD, analysis of variance: certified F. The allowed errors follow the sets' constant
// leading digits.
func TestSettingsAreOneWayNIST(t *testing.T) {
	for name, rel := range map[string]float64{"SmLs01": 1e-12, "SmLs04": 1e-8, "SmLs07": 5e-3,
		"AtmWtAg": 1e-8, "SiRstv": 1e-11} {
		groups := testdata.NISTGroups(t, name)
		c, shots := differ(t, groups), len(slices.Concat(groups...))
		between := testdata.Certified(t, name, "Between", 4) // degrees of freedom, sum of squares, mean square, F
		within := testdata.Certified(t, name, "Within", 3)
		testdata.Within(t, name+" between", float64(len(groups)-1), between[0], 0)
		testdata.Within(t, name+" within", float64(shots-len(groups)), within[0], 0)
		testdata.Near(t, name, c.Statistic, between[3], rel)
		// R squared = SS between / SS total, through F.
		testdata.Certifies(t, name, "Certified R-Squared", rel,
			c.Statistic*between[0]/(c.Statistic*between[0]+within[0]))
	}
}

// GEAR, NIST e-Handbook 1.3.5.7 and 1.3.5.10: ten batches of ten.
func TestSettingsOfGear(t *testing.T) {
	a := differ(t, gear(t))
	testdata.Matches(t, "GEAR", testdata.Quantities{"ANOVA F": a.Statistic, "ANOVA p": a.P})
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
