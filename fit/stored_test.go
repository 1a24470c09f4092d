package fit

import (
	"bufio"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// stored are outcomes kept in a file, one JSON line a cell, so that a long grid can be taken up
// again. Each carries the build that made it and is void for another.
type stored struct {
	file  *os.File
	build string
	lines map[string]outcome
	void  int // lines of another build, or cut off
}

// storedLine is a line of it; all but the outcome says what it is the outcome of.
type storedLine struct {
	Build, Cell string
	Asked       int // runs
	Seed        uint64
	Outcome     outcome
}

func (l storedLine) name() string { return fmt.Sprint(l.Build, l.Cell, l.Asked, l.Seed) }

// openStored reads a file of outcomes, which may be new; without a path nothing is kept.
func openStored(path, build string) (*stored, error) {
	s := &stored{build: build, lines: map[string]outcome{}}
	if path == "" {
		return s, nil
	}
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		return nil, err
	}
	s.file = file
	scan := bufio.NewScanner(file)
	for scan.Scan() {
		var l storedLine
		if json.Unmarshal(scan.Bytes(), &l) != nil || l.Build != build {
			s.void++
			continue
		}
		s.lines[l.name()] = l.Outcome
	}
	return s, scan.Err()
}

func (s *stored) find(c cell, runs int, seed uint64) (outcome, bool) {
	o, ok := s.lines[storedLine{Build: s.build, Cell: c.label(), Asked: runs, Seed: seed}.name()]
	return o, ok
}

func (s *stored) add(c cell, runs int, seed uint64, o outcome) error {
	if s.file == nil {
		return nil
	}
	line, err := json.Marshal(storedLine{s.build, c.label(), runs, seed, o})
	if err != nil {
		return err
	}
	_, err = s.file.Write(append(line, '\n'))
	return err
}

func (s *stored) close() {
	if s.file != nil {
		s.file.Close()
	}
}

// simulation are the files that simulated outcomes come from beside the program.
func simulation() []string {
	return []string{"simulate_test.go", "yardstick_test.go", "tally_test.go"}
}

// buildOf digests all that an outcome depends on: the program's sources that this package is built
// from, the simulation's, and the versions of the compiler's language and of other modules.
func buildOf(dir string, simulation []string) (string, error) {
	const format = `{{if not .Standard}}{{if .Module.Main}}{{$d := .Dir}}{{range .GoFiles}}file {{$d}}/{{.}}
{{end}}{{else}}module {{.Module.Path}} {{.Module.Version}}
{{end}}{{end}}`
	list := exec.Command("go", "list", "-deps", "-f", format, ".")
	list.Dir, list.Stderr = dir, os.Stderr
	packages, err := list.Output()
	if err != nil {
		return "", fmt.Errorf("go list: %w", err)
	}
	language := exec.Command("go", "list", "-m", "-f", "{{.GoVersion}}")
	language.Dir = dir
	version, err := language.Output()
	if err != nil {
		return "", fmt.Errorf("go list -m: %w", err)
	}
	sum, files := sha256.New(), 0
	fmt.Fprintf(sum, "go %s", version)
	for line := range strings.Lines(string(packages)) {
		line = strings.TrimSpace(line)
		path, ok := strings.CutPrefix(line, "file ")
		if !ok {
			fmt.Fprintln(sum, line)
			continue
		}
		files++
		if err := digestFile(sum, path); err != nil {
			return "", err
		}
	}
	for _, name := range simulation {
		if err := digestFile(sum, filepath.Join(dir, name)); err != nil {
			return "", err
		}
	}
	if files == 0 {
		return "", fmt.Errorf("go list names no source of %s", dir)
	}
	return fmt.Sprintf("%x", sum.Sum(nil)[:8]), nil
}

// digestFile adds a file by its name, without its folder, and its text.
func digestFile(sum io.Writer, path string) error {
	text, err := os.ReadFile(path)
	if err == nil {
		_, err = fmt.Fprintf(sum, "%s %d\n%s", filepath.Base(path), len(text), text)
	}
	return err
}

// A stored outcome is found by the build that made it, and void for any other.
func TestStoredIsVoidForAnotherBuild(t *testing.T) {
	path, c := filepath.Join(t.TempDir(), "grid.jsonl"), cell{"drop", 2, 3, 1, false, false}
	open := func(build string) *stored {
		s, err := openStored(path, build)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(s.close)
		return s
	}
	want := outcome{Runs: 7, Error: ratio{N: 7, A: 1.25}}
	if err := open("one").add(c, 7, 1, want); err != nil {
		t.Fatal(err)
	}
	if got, ok := open("one").find(c, 7, 1); !ok || got != want {
		t.Errorf("found %v, %+v", ok, got)
	}
	if s := open("two"); s.void != 1 {
		t.Errorf("%d lines are void for another build", s.void)
	} else if _, ok := s.find(c, 7, 1); ok {
		t.Error("the outcome of another build was found")
	}
	if _, ok := open("one").find(c, 8, 1); ok {
		t.Error("the outcome of other runs was found")
	}
}

// The build is another as soon as one source that outcomes depend on is, in this package or one it
// is built from, of the program or of the simulation; a test that they do not depend on changes
// nothing.
func TestBuildTellsSourcesApart(t *testing.T) {
	dir := t.TempDir()
	put := func(name, text string) {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	files := map[string]string{"go.mod": "module m\n\ngo 1.24\n", "a/a.go": "package a\n\nimport _ \"m/b\"\n",
		"b/b.go": "package b\n", "a/drawn_test.go": "package a\n", "a/other_test.go": "package a\n"}
	for name, text := range files {
		put(name, text)
	}
	build := func() string {
		b, err := buildOf(filepath.Join(dir, "a"), []string{"drawn_test.go"})
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	was := build()
	for name, text := range files {
		put(name, strings.Replace(text+"\n// changed\n", "go 1.24", "go 1.25", 1))
		if changed := build() != was; changed != (name != "a/other_test.go") {
			t.Errorf("%s changed: another build %v", name, changed)
		}
		put(name, text)
	}
	if build() != was {
		t.Error("two digests of one tree differ")
	}
}
