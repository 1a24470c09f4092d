package fit

import (
	"math"
	"testing"

	"leadmark/testdata"
)

// What Lag reports of shots made alike: of ten advances the mean, the sample's standard deviation and
// the interval that holds 95 % of all shots with 95 % confidence. The factors are those of printed
// tables (testdata/quality/tolerance.csv, computed apart; Student's t: any table, 2.262 for 9 degrees
// of freedom).
func TestReportedAdvance(t *testing.T) {
	advances := []float64{0.1601, 0.1612, 0.1598, 0.1607, 0.1604, 0.1615, 0.1596, 0.1609, 0.1603, 0.1605}
	run := Run{Gravity: 9.80665}
	for _, a := range advances {
		run.Shots = append(run.Shots, Shot{Advance: a, AdvanceU: 1e-5, Drop: 0.4})
	}
	res, err := Lag(run)
	if err != nil || len(res.Advance) != 1 || res.Advance[0].Tolerance95 == nil {
		t.Fatalf("%v, %+v", err, res.Advance)
	}
	mean, square := 0.0, 0.0
	for _, a := range advances {
		mean += a / 10
	}
	for _, a := range advances {
		square += (a - mean) * (a - mean) / 9
	}
	k := 0.0
	for _, r := range testdata.Numbers(t, "quality/tolerance.csv") {
		if r[0] == 10 && r[1] == 0.95 && r[2] == 0.95 {
			k = r[3]
		}
	}
	g, sd := res.Advance[0], math.Sqrt(square)
	testdata.Within(t, "mean", g.Mean.Value, mean, 1e-12)
	testdata.Within(t, "standard deviation", g.SD, sd, 1e-12)
	testdata.Within(t, "tolerance, low", g.Tolerance95.Low, mean-k*sd, 1e-9)
	testdata.Within(t, "tolerance, high", g.Tolerance95.High, mean+k*sd, 1e-9)
	testdata.Within(t, "mean, high", g.Mean.Interval95.High, mean+2.262*sd/math.Sqrt(10), 1e-7)
}
