package testdata

import (
	"bufio"
	"bytes"
	"strconv"
	"strings"
	"testing"
)

// Certifies compares figures with the numbers that a StRD file certifies behind a label.
func Certifies(t testing.TB, name, label string, rel float64, figures ...float64) {
	t.Helper()
	for i, want := range Certified(t, name, label, len(figures)) {
		Near(t, name+" "+label, figures[i], want, rel)
	}
}

// NIST reads the data at the end of a StRD file: what follows the last line that is not all numbers.
func NIST(t testing.TB, name string) (rows [][]float64) {
	t.Helper()
	lines := bufio.NewScanner(bytes.NewReader(Read(t, "nist/"+name+".dat")))
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

// NISTLine reads the data of a line: the answer comes first.
func NISTLine(t testing.TB, name string) (x, y []float64) {
	t.Helper()
	for _, r := range NIST(t, name) {
		x, y = append(x, r[1]), append(y, r[0])
	}
	return x, y
}

// NISTGroups reads a set of an analysis of variance: the number of the group, then the value.
func NISTGroups(t testing.TB, name string) (groups [][]float64) {
	t.Helper()
	for _, r := range NIST(t, name) {
		k := int(r[0]) - 1
		for len(groups) <= k {
			groups = append(groups, nil)
		}
		groups[k] = append(groups[k], r[1])
	}
	return groups
}

// Certified returns the n numbers that a StRD file gives behind a label of its head, such as the
// estimate and the standard deviation of "B0".
func Certified(t testing.TB, name, label string, n int) []float64 {
	t.Helper()
	for line := range strings.Lines(string(Read(t, "nist/"+name+".dat"))) {
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
