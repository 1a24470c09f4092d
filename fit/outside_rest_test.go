package fit

import (
	"testing"

	gonum "gonum.org/v1/gonum/stat"

	"leadmark/testdata"
)

// JCGM 100:2008 H.3 with a common uncertainty of 0.005 of endless degrees of freedom added to the intercept's of nine: 145.3796 effective ones by
// Welch and Satterthwaite (GTC documentation, GUM_H3). A comparison adds two uncertainties in just this way.
func TestWelchSatterthwaiteOfTheGUM(t *testing.T) {
	d := Compare(Estimate{U: testdata.Computed(t, "GUM H.3", "u(y1)"), DF: 9}, Estimate{U: 0.005, DF: manyDF}, CompareOptions{})
	testdata.Matches(t, "GUM H.3 compared with 0.005", testdata.Quantities{"u(y1)": d.U, "df(y1)": d.DF})
}

// Real readings that drift, NIST StRD: Michelson's speed of light (certified lag-1 autocorrelation 0.5352) and Mavrodineanu's filter
// (0.9380). As lags of pushes at one speed both must raise the alarm of drift over the shooting order. NumAcc3, which alternates
// (-0.999), must not.
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
