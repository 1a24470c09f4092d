package stat

import (
	"fmt"
	"math"
	"testing"

	"leadmark/testdata"
)

// The exact factors computed with an independent Gauss-Legendre rule.
func TestToleranceAgainstTable(t *testing.T) {
	for _, r := range testdata.Numbers(t, "quality/tolerance.csv") {
		n, p, conf := r[0], r[1], r[2]
		testdata.Within(t, "two-sided", Tolerance(n, n-1, p, conf), r[3], 1e-7)
	}
	testdata.Matches(t, "tolerance n 43", testdata.Quantities{"two-sided .90 .99": Tolerance(43, 42, 0.90, 0.99)})
	testdata.Within(t, "n infinite", Tolerance(1e9, 1e9, 0.95, 0.95), 1.9600, 6e-4) // ISO 16269-6, table F.5, last line
}

// Entries of printed tables, those of ISO 16269-6 rounded up at the fourth decimal. There m samples
// of n give m(n-1) degrees of freedom for the pooled standard deviation, while each mean rests on n
// values: the case of advances of several conditions with a common scatter.
func TestTolerancePublished(t *testing.T) {
	for _, r := range testdata.Table(t, "quality/tolerance_published.csv") {
		number := func(key string) float64 { return testdata.Number(t, r["table"], r[key]) }
		n, p, conf := number("n"), number("p"), number("confidence")
		k := Tolerance(n, number("samples")*(n-1), p, conf)
		last := 6e-4
		if r["table"] == "ISO 16269-6" {
			k, last = math.Ceil(1e4*k-1e-6)/1e4, 1e-9
		}
		testdata.Within(t, fmt.Sprint(r), k, number("k"), last)
	}
}

func TestToleranceDomain(t *testing.T) {
	for _, k := range []float64{Tolerance(0, 1, .9, .9), Tolerance(5, 0, .9, .9), Tolerance(5, 4, 1, .9),
		Tolerance(5, 4, .9, 0)} {
		if !math.IsNaN(k) {
			t.Errorf("outside its domain: %g", k)
		}
	}
}
