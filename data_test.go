package leadmark_test

import (
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// What tests are held against stands in testdata: outside of the repository lie photographs alone,
// and few files know where. So nothing but photographs' tests is passed over in a clone.
func TestOnlyPhotographsLieOutside(t *testing.T) {
	// Written in pieces, so that this file does not find itself.
	outside := regexp.MustCompile(`["/]sha` + `red(["/]|$)|ref` + `data|references` + `\.md`)
	for _, line := range []string{`filepath.Join("..", "..", "sha` + `red", "x")`, `"../sha` + `red/x"`,
		`cat ../sha` + `red/x`, `open ref` + `data/x`} {
		if !outside.MatchString(line) {
			t.Errorf("%s would not be found", line)
		}
	}
	n := 0
	for _, path := range treeFiles(t) {
		if !isSource(path) {
			continue
		}
		n++
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for i, line := range strings.Split(string(data), "\n") {
			if outside.MatchString(line) && !readsPhotographs(filepath.ToSlash(path)) {
				t.Errorf("%s:%d reads outside of the repository: %s", path, i+1, strings.TrimSpace(line))
			}
		}
	}
	if n < 200 {
		t.Errorf("only %d files were looked at", n)
	}
	data, err := os.ReadFile(filepath.Join("testdata", "photographs.go"))
	if err != nil {
		t.Fatal(err)
	}
	for _, call := range regexp.MustCompile(`t\.Skip.*`).FindAllString(string(data), -1) {
		if !strings.Contains(call, "photograph") {
			t.Errorf("a test is skipped without saying that photographs are missing: %s", call)
		}
	}
}

// readsPhotographs names the files that know where the photographs lie: the tests' and, as a program
// can import no test's helper, those of the scripts that compare, break and study.
func readsPhotographs(path string) bool {
	return path == "testdata/photographs.go" || slices.Contains([]string{"scripts/comparecommits/main.go",
		"scripts/rulerstudy/main.go", "scripts/benchmark/main.go", "scripts/limits/main.go", "scripts/breaks/try.go"}, path)
}

// isSource says whether a file is Go or a script.
func isSource(path string) bool {
	dir := strings.Split(filepath.ToSlash(path), "/")[0]
	return filepath.Ext(path) == ".go" || dir == "scripts" || dir == ".ci"
}

// Every table of testdata is in README.md with its source, licence and tests, every file there is
// in the folder, and the tests exist.
func TestTablesAreExplained(t *testing.T) {
	explained, tests := tableRows(t)
	there := []string{}
	err := filepath.WalkDir("testdata", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && filepath.Ext(path) != ".go" && filepath.Base(path) != "README.md" {
			there = append(there, filepath.ToSlash(strings.TrimPrefix(path, "testdata"+string(filepath.Separator))))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range there {
		if !slices.Contains(explained, name) {
			t.Errorf("testdata/%s is not in testdata/README.md: say what it is, whose, what for, and which "+
				"tests use it", name)
		}
	}
	for _, name := range explained {
		if !slices.Contains(there, name) {
			t.Errorf("testdata/README.md tells of %s, which is not there", name)
		}
	}
	sources := testSources(t)
	for _, name := range tests {
		if !strings.Contains(sources, "func "+name+"(t *testing.T)") {
			t.Errorf("testdata/README.md names %s, which is no test", name)
		}
	}
	if len(there) < 30 || len(tests) < 25 {
		t.Errorf("only %d files and %d tests were looked at", len(there), len(tests))
	}
}

// tableRows reads the table of testdata/README.md: the files of its first column and the tests of
// its last.
func tableRows(t *testing.T) (files, tests []string) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	quoted := regexp.MustCompile("`[^`]+`")
	for _, line := range strings.Split(string(data), "\n") {
		if !strings.HasPrefix(line, "| `") {
			continue
		}
		cells := strings.Split(strings.Trim(line, "| "), " | ")
		if len(cells) != 5 || slices.Contains(cells, "") {
			t.Errorf("%d of five columns are filled: %s", len(cells), line)
			continue
		}
		for _, name := range quoted.FindAllString(cells[0], -1) {
			files = append(files, strings.Trim(name, "`"))
		}
		used := 0
		for _, name := range quoted.FindAllString(cells[4], -1) {
			if name = strings.Trim(name, "`"); strings.HasPrefix(name, "Test") {
				tests, used = append(tests, name), used+1
			}
		}
		if used == 0 {
			t.Errorf("no test uses %s", cells[0])
		}
	}
	return files, tests
}

// Every example of testdata/results.csv is compared with by a test of fit.
func TestResultsAreUsed(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "results.csv"))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	sources := testSources(t)
	for i, row := range rows[1:] {
		if row[0] != rows[i][0] && !strings.Contains(sources, `"`+row[0]+`"`) {
			t.Errorf("no test compares with %s", row[0])
		}
	}
}

// testSources are all tests of the tree, one after the other.
func testSources(t *testing.T) string {
	t.Helper()
	var all strings.Builder
	for _, path := range treeFiles(t) {
		if strings.HasSuffix(path, "_test.go") {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			all.Write(data)
		}
	}
	return all.String()
}
