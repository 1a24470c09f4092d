package fit

import (
	"bufio"
	"bytes"
	"strconv"
	"strings"
	"testing"

	"leadmark/testdata"
)

// matches compares figures with what testdata/results.csv has of an example: all of its quantities, and no others.
func matches(t *testing.T, example string, figures quantities) {
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
			near(t, what, got, r.value, r.rel)
		} else {
			within(t, what, got, r.value, r.abs)
		}
	}
	for name := range figures {
		if !held[name] {
			t.Errorf("%s: results.csv has no %s", example, name)
		}
	}
}

// computed returns one value of results.csv with all its digits.
func computed(t *testing.T, example, quantity string) float64 {
	t.Helper()
	for _, r := range results(t, example) {
		if r.quantity == quantity && r.kind == "computed" {
			return r.value
		}
	}
	t.Fatalf("results.csv has no computed %s of %s", quantity, example)
	return 0
}

// quantities are the figures of one example by their names in results.csv.
type quantities map[string]float64

// result is a row of results.csv: printed by the source or computed in other software, and how far off a figure may
// be, in its own unit or in parts of the value.
type result struct {
	quantity, kind  string
	value, abs, rel float64
}

func results(t *testing.T, example string) (all []result) {
	t.Helper()
	for _, row := range testdata.Table(t, "results.csv") {
		if row["example"] != example {
			continue
		}
		r := result{quantity: row["quantity"], kind: row["kind"], value: testdata.Number(t, example, row["value"])}
		if row["rel"] != "" {
			r.rel = testdata.Number(t, example, row["rel"])
		} else {
			r.abs = testdata.Number(t, example, row["abs"])
		}
		all = append(all, r)
	}
	if len(all) == 0 {
		t.Fatalf("results.csv has no %s", example)
	}
	return all
}

// columns reads two columns of a table of numbers.
func columns(t *testing.T, name string, first, second int) (x, y []float64) {
	t.Helper()
	for _, r := range testdata.Numbers(t, name) {
		x, y = append(x, r[first]), append(y, r[second])
	}
	return x, y
}

// nist reads the data at the end of a StRD file: what follows the last line that is not all numbers.
func nist(t *testing.T, name string) (rows [][]float64) {
	t.Helper()
	lines := bufio.NewScanner(bytes.NewReader(testdata.Read(t, "nist/"+name+".dat")))
	for lines.Scan() {
		fields := strings.Fields(lines.Text())
		row := numbers(fields)
		switch {
		case len(row) < len(fields):
			rows = nil
		case len(row) > 0:
			rows = append(rows, row)
		}
	}
	if len(rows) == 0 {
		t.Fatalf("%s holds no numbers", name)
	}
	return rows
}

// nistLine reads the data of a line: the answer comes first.
func nistLine(t *testing.T, name string) (x, y []float64) {
	t.Helper()
	for _, r := range nist(t, name) {
		x, y = append(x, r[1]), append(y, r[0])
	}
	return x, y
}

// nistGroups reads a set of an analysis of variance: the number of the group, then the value.
func nistGroups(t *testing.T, name string) (groups [][]float64) {
	t.Helper()
	for _, r := range nist(t, name) {
		k := int(r[0]) - 1
		for len(groups) <= k {
			groups = append(groups, nil)
		}
		groups[k] = append(groups[k], r[1])
	}
	return groups
}

// certified returns the n numbers that a StRD file gives behind a label of its head, such as the estimate and the
// standard deviation of "B0".
func certified(t *testing.T, name, label string, n int) []float64 {
	t.Helper()
	for line := range strings.Lines(string(testdata.Read(t, "nist/"+name+".dat"))) {
		if rest, ok := strings.CutPrefix(strings.TrimSpace(line), label); ok {
			if list := numbers(strings.Fields(rest)); len(list) == n {
				return list
			}
		}
	}
	t.Fatalf("%s certifies no %s of %d numbers", name, label, n)
	return nil
}

func numbers(fields []string) (list []float64) {
	for _, f := range fields {
		if v, err := strconv.ParseFloat(f, 64); err == nil {
			list = append(list, v)
		}
	}
	return list
}
