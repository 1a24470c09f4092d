package fit

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// refdata reads a table of the shared reference data beside the repository, or skips the test.
func refdata(t *testing.T, name string) [][]float64 {
	t.Helper()
	file, err := os.Open(filepath.Join("..", "..", "shared", "refdata", name))
	if err != nil {
		t.Skipf("reference table %s is not at hand: %v", name, err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out [][]float64
	for _, row := range rows[1:] {
		var values []float64
		for _, cell := range row {
			v, err := strconv.ParseFloat(strings.TrimSpace(cell), 64)
			if err != nil {
				t.Fatal(err)
			}
			values = append(values, v)
		}
		out = append(out, values)
	}
	if len(out) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return out
}

// The exact factors computed with R's qt (one-sided) and an independent Gauss-Legendre rule
// (two-sided) for n = 5 to 100, p and confidence .90, .95, .99.
func TestToleranceAgainstTable(t *testing.T) {
	for _, r := range refdata(t, "tolerance_factors.csv") {
		n, p, conf := r[0], r[1], r[2]
		within(t, "one-sided", ToleranceOneSided(int(n), p, conf), r[3], 2e-7)
		within(t, "two-sided", Tolerance(n, n-1, p, conf), r[5], 2e-7)
	}
}

// Raw least trimmed squares of the star cluster CYG OB1 by an exact search (R robustbase 0.95-0,
// ltsReg(nsamp = "exact"), h = 25): log.light = -13.62399 + 4.219182 log.Te. The four giants
// 11, 20, 30, 34 (Rousseeuw and Leroy 1987, p. 27) lie far off.
func TestLeastTrimmedStars(t *testing.T) {
	var x, y []float64
	for _, r := range refdata(t, "starsCYG.csv") {
		x, y = append(x, r[0]), append(y, r[1])
	}
	fit := leastTrimmed(x, y, false)
	exact := line{a: -13.62399, b: 4.219182}
	if got, want := trimmedSum(x, y, fit, 25), trimmedSum(x, y, exact, 25); got > want*(1+1e-5) {
		t.Errorf("trimmed sum %g, the exact search has %g (a %g, b %g)", got, want, fit.a, fit.b)
	}
	for _, i := range []int{11, 20, 30, 34} {
		if far := (y[i-1] - fit.a - fit.b*x[i-1]) / fit.scale; far < 3 && far > -3 {
			t.Errorf("giant %d only %.1f scales off", i, far)
		}
	}
}

// Belgian telephone calls: the years 1964 to 1969 were counted in another unit (Rousseeuw and Leroy
// 1987); reweighted LTS of R drops 14 to 21 of 24 and has slope 0.10846535.
func TestLeastTrimmedTelephone(t *testing.T) {
	var x, y []float64
	for _, r := range refdata(t, "telef.csv") {
		x, y = append(x, r[0]), append(y, r[1])
	}
	fit := leastTrimmed(x, y, false)
	if fit.b < 0.09 || fit.b > 0.13 {
		t.Errorf("slope %g", fit.b)
	}
	for i := 14; i < 20; i++ {
		if far := (y[i] - fit.a - fit.b*x[i]) / fit.scale; far < 5 {
			t.Errorf("year %g only %.1f scales off", x[i], far)
		}
	}
}
