package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// Student's quantiles as the published worked examples use them: Norris's 34 degrees of freedom (R: qt(.975, 34) = 2.03224451) and Handbook
// 91's 14 (2.144787).
func TestStudentsQuantile(t *testing.T) {
	near(t, "34", students(34), 2.03224451, 1e-8)
	near(t, "14", students(14), 2.144787, 1e-6)
}

// Pearson's data without York's weights: the orthogonal line (equal uncertainties in x and y) 5.784043774530, -0.545561197521 and ordinary least
// squares 5.7611851900, -0.5395772750, as printed in the kmpfit documentation and computed with numpy. Pearson (1901) printed 5.7857, -0.546.
func TestPearsonUnweighted(t *testing.T) {
	x := []float64{0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4}
	y := []float64{5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5}
	u := []float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 1}
	l, err := York(x, y, u, u, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "orthogonal a", l.A, 5.784043774530, 1e-11)
	near(t, "orthogonal b", l.B, -0.545561197521, 1e-11)
	within(t, "Pearson's a", l.A, 5.7857, 2e-3) // his own arithmetic was off in the third place
	within(t, "Pearson's b", l.B, -0.546, 5e-4)
	if l, err = Straight(x, y, nil); err != nil {
		t.Fatal(err)
	}
	near(t, "least squares a", l.A, 5.7611851900, 1e-9)
	near(t, "least squares b", l.B, -0.5395772750, 1e-9)
}

// EURACHEM / CITAC Guide, appendix A5 (cadmium from ceramic ware), as worked in the GTC documentation (MSLNZ/GTC, docs/API/CITAC_A5.rst): intercept
// 0.0087(29), slope 0.2410(50), correlation -0.87038; two readings 0.0712 and 0.0716 give 0.260(18) by
// u = s/b sqrt(1/p + 1/n + (x0 - mean)^2 / Sxx), here as the inverse prediction from a mean of two.
func TestInverseOfSeveralReadings(t *testing.T) {
	x := []float64{0.1, 0.1, 0.1, 0.3, 0.3, 0.3, 0.5, 0.5, 0.5, 0.7, 0.7, 0.7, 0.9, 0.9, 0.9}
	y := []float64{0.028, 0.029, 0.029, 0.084, 0.083, 0.081, 0.135, 0.131, 0.133, 0.180, 0.181, 0.183, 0.215, 0.230, 0.216}
	l, err := Straight(x, y, nil)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "intercept", l.A, 0.0087, 5e-5)
	within(t, "u(intercept)", l.UA, 0.0029, 5e-5)
	within(t, "slope", l.B, 0.2410, 5e-5)
	within(t, "u(slope)", l.UB, 0.0050, 5e-5)
	within(t, "correlation", l.Cov/l.UA/l.UB, -0.87038, 1e-5)
	x0, u := l.Inverse((0.0712+0.0716)/2, l.S/math.Sqrt2)
	within(t, "x0", x0, 0.260, 5e-4)
	within(t, "u(x0)", u, 0.018, 5e-4)
	sxx := 1.2 // three times 0.16 + 0.04 + 0 + 0.04 + 0.16
	near(t, "u(x0) by the guide's formula", u, l.S/l.B*math.Sqrt(1.0/2+1.0/15+sq(x0-0.5)/sxx), 1e-9)
}

// JCGM 100:2008 H.3 with a common uncertainty of 0.005 of endless degrees of freedom added to the intercept's of nine: 145.3796 effective ones by
// Welch and Satterthwaite (GTC documentation, GUM_H3). A comparison adds two uncertainties in just this way.
func TestWelchSatterthwaiteOfTheGUM(t *testing.T) {
	d := Compare(Estimate{U: 0.0028775978, DF: 9}, Estimate{U: 0.005, DF: manyDF}, CompareOptions{})
	near(t, "u", d.U, 0.00576893138, 1e-7)
	near(t, "df", d.DF, 145.3796, 1e-4)
}

// NIST StRD, analysis of variance: degrees of freedom and, through F, the certified R squared = SS between / SS total.
func TestOneWayNISTDegrees(t *testing.T) {
	for _, c := range []struct {
		name         string
		df1, df2, r2 float64
		rel          float64
	}{{"SmLs01", 8, 180, 0.482758620689655, 1e-12}, {"SmLs04", 8, 180, 0.482758620689655, 1e-8}, {"SmLs07", 8, 180, 0.482758620689655, 5e-3},
		{"AtmWtAg", 1, 46, 0.257426544538321, 1e-8}, {"SiRstv", 4, 20, 0.190999039051129, 1e-12}} {
		v, err := OneWay(nistGroups(t, c.name+".dat"))
		if err != nil {
			t.Fatal(c.name, err)
		}
		within(t, c.name+" between", v.DF1, c.df1, 0)
		within(t, c.name+" within", v.DF2, c.df2, 0)
		near(t, c.name+" R2", v.Statistic*v.DF1/(v.Statistic*v.DF1+v.DF2), c.r2, c.rel)
		near(t, c.name+" P", v.P, distuv.F{D1: c.df1, D2: c.df2}.Survival(v.Statistic), 1e-12)
	}
}

// Real readings that drift, NIST StRD: Michelson's speed of light (certified lag-1 autocorrelation 0.5352) and Mavrodineanu's filter
// (0.9380). As lags of pushes at one speed both must raise the alarm of drift over the shooting order. NumAcc3, which alternates
// (-0.999), must not.
func TestDriftOfRealReadings(t *testing.T) {
	for name, drifts := range map[string]bool{"Michelso": true, "Mavro": true, "NumAcc3": false} {
		rows := nist(t, name+".dat")
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

// ISO 16269-6:2014 table F.5, p = .95, confidence .95, of several samples: m samples of n give m(n-1) degrees of freedom for the pooled standard
// deviation, while each mean rests on n values (quoted in cjekel/tolerance_interval_py 91faa66d). The standard rounds up at the fourth decimal.
// This is the case of advances of several conditions with a common scatter.
func TestToleranceOfPooledSamples(t *testing.T) {
	for _, c := range []struct {
		n float64
		k [4]float64 // m = 1, 2, 5, 10
	}{{5, [4]float64{5.0769, 3.6939, 2.9820, 2.7472}}, {10, [4]float64{3.3935, 2.8700, 2.5377, 2.4125}}, {26, [4]float64{2.6188, 2.4051, 2.2476, 2.1803}}, {90, [4]float64{2.2519, 2.1622, 2.0895, 2.0555}}} {
		for i, m := range []float64{1, 2, 5, 10} {
			k := Tolerance(c.n, m*(c.n-1), 0.95, 0.95)
			within(t, "k", math.Ceil(1e4*k-1e-6)/1e4, c.k[i], 1e-9)
		}
	}
}
