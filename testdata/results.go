package testdata

import (
	"math"
	"testing"
)

// Near fails unless got and want agree within a relative tolerance.
func Near(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.15g, want %.15g (rel %.1e, allowed %.1e)", what, got, want, math.Abs(got/want-1), rel)
	}
}

// Within fails unless got and want agree within an absolute tolerance.
func Within(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.15g, want %.15g +- %g", what, got, want, tol)
	}
}

// Matches compares figures with what testdata/results.csv has of an example: all of its quantities,
// and no others.
func Matches(t testing.TB, example string, figures Quantities) {
	t.Helper()
	held := map[string]bool{}
	for _, r := range results(t, example) {
		got, there := figures[r.quantity]
		if !there {
			t.Errorf("%s: no figure for %s", example, r.quantity)
			continue
		}
		held[r.quantity] = true
		if what := example + ", " + r.kind + " " + r.quantity; r.rel > 0 {
			Near(t, what, got, r.value, r.rel)
		} else {
			Within(t, what, got, r.value, r.abs)
		}
	}
	for name := range figures {
		if !held[name] {
			t.Errorf("%s: results.csv has no %s", example, name)
		}
	}
}

// Computed returns one value of results.csv with all its digits.
func Computed(t testing.TB, example, quantity string) float64 {
	t.Helper()
	for _, r := range results(t, example) {
		if r.quantity == quantity && r.kind == "computed" {
			return r.value
		}
	}
	t.Fatalf("results.csv has no computed %s of %s", quantity, example)
	return 0
}

// Quantities are the figures of one example by their names in results.csv.
type Quantities map[string]float64

// result is a row of results.csv: printed by the source or computed in other software, and how far
// off a figure may be, in its own unit or in parts of the value.
type result struct {
	quantity, kind  string
	value, abs, rel float64
}

func results(t testing.TB, example string) (all []result) {
	t.Helper()
	for _, row := range Table(t, "results.csv") {
		if row["example"] != example {
			continue
		}
		r := result{quantity: row["quantity"], kind: row["kind"], value: Number(t, example, row["value"])}
		if row["rel"] != "" {
			r.rel = Number(t, example, row["rel"])
		} else {
			r.abs = Number(t, example, row["abs"])
		}
		all = append(all, r)
	}
	if len(all) == 0 {
		t.Fatalf("results.csv has no %s", example)
	}
	return all
}

// Columns reads two columns of a table of numbers.
func Columns(t testing.TB, name string, first, second int) (x, y []float64) {
	t.Helper()
	for _, r := range Numbers(t, name) {
		x, y = append(x, r[first]), append(y, r[second])
	}
	return x, y
}
