// Package testdata holds what the tests of all packages are held against: the tables in this folder
// (README.md says what each is, whose, and what it may be used for), and where to find what is not
// copied here. Tests alone import it; the go command leaves folders of this name out of "./...".
// What is missing fails a test; photographs alone may be missing.
package testdata

import (
	"bytes"
	"embed"
	"encoding/csv"
	"strconv"
	"strings"
	"testing"
)

//go:embed *.csv camera line nist quality robust
var tables embed.FS

// Read returns a file of this folder, as "nist/Norris.dat".
func Read(t testing.TB, name string) []byte {
	t.Helper()
	data, err := tables.ReadFile(name)
	if err != nil {
		t.Fatalf("the table is missing in testdata: %v", err)
	}
	return data
}

// Table reads a table in CSV: each row by the names of its columns.
func Table(t testing.TB, name string) []map[string]string {
	t.Helper()
	head, rows := parse(t, name)
	all := make([]map[string]string, len(rows))
	for i, row := range rows {
		all[i] = map[string]string{}
		for k, cell := range row {
			all[i][head[k]] = cell
		}
	}
	return all
}

// Numbers reads a table in CSV that holds numbers alone below its head.
func Numbers(t testing.TB, name string) [][]float64 {
	t.Helper()
	_, rows := parse(t, name)
	all := make([][]float64, len(rows))
	for i, row := range rows {
		for _, cell := range row {
			all[i] = append(all[i], Number(t, name, cell))
		}
	}
	return all
}

// Number reads a cell; name says of which table.
func Number(t testing.TB, name, cell string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSpace(cell), 64)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return v
}

func parse(t testing.TB, name string) (head []string, rows [][]string) {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(Read(t, name))).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if len(rows) < 2 {
		t.Fatalf("%s is empty", name)
	}
	return rows[0], rows[1:]
}
