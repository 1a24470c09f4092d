package fit

import (
	"testing"

	gonum "gonum.org/v1/gonum/stat"

	"leadmark/testdata"
)

// Real readings that drift, NIST StRD: Michelson's speed of light (certified lag-1 autocorrelation
// 0.5352) and Mavrodineanu's filter (0.9380). As lags of pushes at one speed both must raise the
// alarm of drift over the shooting order. NumAcc3, which alternates (-0.999), must not.
func TestDriftOfRealReadings(t *testing.T) {
	for name, drifts := range map[string]bool{"Michelso": true, "Mavro": true, "NumAcc3": false} {
		rows := testdata.NIST(t, name)
		run := Run{TripU: ptr(0)}
		sd := gonum.StdDev(column(rows), nil)
		for _, r := range rows {
			lag := 0.05 + 1e-3*(r[0]-rows[0][0])/sd // scaled to a lag of 50 ms with a spread of 1 ms
			run.Shots = append(run.Shots, Shot{Speed: 1.5, Advance: 1.5 * lag})
		}
		res, err := Lag(run)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range res.Checks {
			if c.Name == "order" && (c.Alarm != drifts || !c.Tested) {
				t.Errorf("%s: %+v", name, c)
			}
		}
	}
}

func column(rows [][]float64) (y []float64) {
	for _, r := range rows {
		y = append(y, r[0])
	}
	return y
}
