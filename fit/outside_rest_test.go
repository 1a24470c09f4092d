package fit

import (
	"math"
	"testing"
)

// Student's quantile of Norris's 34 degrees of freedom (R: qt(.975, 34)); Handbook 91's 14 are among its results.
func TestStudentsQuantile(t *testing.T) {
	near(t, "34", students(34), 2.03224451, 1e-8)
}

// Pearson's data without York's weights: the orthogonal line (equal uncertainties in x and y) and ordinary least
// squares. Pearson (1901) was off in the third place of a.
func TestPearsonUnweighted(t *testing.T) {
	x, y := columns(t, "line/pearson_york.csv", 0, 2)
	u := make([]float64, len(x))
	for i := range u {
		u[i] = 1
	}
	l, err := York(x, y, u, u, nil)
	if err != nil {
		t.Fatal(err)
	}
	matches(t, "Pearson orthogonal", quantities{"a": l.A, "b": l.B})
	if l, err = Straight(x, y, nil); err != nil {
		t.Fatal(err)
	}
	matches(t, "Pearson least squares", quantities{"a": l.A, "b": l.B})
}

// EURACHEM / CITAC Guide, appendix A5 (cadmium from ceramic ware): two readings, 0.0712 and 0.0716, by
// u = s/b sqrt(1/p + 1/n + (x0 - mean)^2 / Sxx), here as the inverse prediction from a mean of two.
func TestInverseOfSeveralReadings(t *testing.T) {
	x, y := columns(t, "line/citac_a5.csv", 0, 1)
	l, err := Straight(x, y, nil)
	if err != nil {
		t.Fatal(err)
	}
	x0, u := l.Inverse((0.0712+0.0716)/2, l.S/math.Sqrt2)
	matches(t, "CITAC A5", quantities{"a": l.A, "u(a)": l.UA, "b": l.B, "u(b)": l.UB,
		"r": l.Cov / l.UA / l.UB, "x0": x0, "u(x0)": u})
	sxx := 1.2 // three times 0.16 + 0.04 + 0 + 0.04 + 0.16
	near(t, "u(x0) by the guide's formula", u, l.S/l.B*math.Sqrt(1.0/2+1.0/15+sq(x0-0.5)/sxx), 1e-9)
}

// JCGM 100:2008 H.3 with a common uncertainty of 0.005 of endless degrees of freedom added to the intercept's of nine: 145.3796 effective ones by
// Welch and Satterthwaite (GTC documentation, GUM_H3). A comparison adds two uncertainties in just this way.
func TestWelchSatterthwaiteOfTheGUM(t *testing.T) {
	d := Compare(Estimate{U: computed(t, "GUM H.3", "u(y1)"), DF: 9}, Estimate{U: 0.005, DF: manyDF}, CompareOptions{})
	matches(t, "GUM H.3 compared with 0.005", quantities{"u(y1)": d.U, "df(y1)": d.DF})
}

// Real readings that drift, NIST StRD: Michelson's speed of light (certified lag-1 autocorrelation 0.5352) and Mavrodineanu's filter
// (0.9380). As lags of pushes at one speed both must raise the alarm of drift over the shooting order. NumAcc3, which alternates
// (-0.999), must not.
func TestDriftOfRealReadings(t *testing.T) {
	for name, drifts := range map[string]bool{"Michelso": true, "Mavro": true, "NumAcc3": false} {
		rows := nist(t, name)
		run := Run{TripU: ptr(0)}
		_, ss := meanSquares(column(rows))
		sd := math.Sqrt(ss / float64(len(rows)-1))
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
