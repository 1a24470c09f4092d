package leadmark_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A study that asks go test for a test that is not there passes without a word, so what the scripts
// name is held against the tree: folders, and tests and benchmarks in them.
func TestScriptsNameWhatIsThere(t *testing.T) {
	call := regexp.MustCompile(`go (?:test|run|build)\b[^\n]*`)
	folder := regexp.MustCompile(`\s\./([A-Za-z0-9_/]+)`)
	wanted := regexp.MustCompile(`-(?:run|bench) (?:'([^']+)'|"([^"]+)")`)
	folders, tests := 0, 0
	for _, script := range shellScripts(t) {
		text, err := os.ReadFile(script)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range call.FindAllString(string(text), -1) {
			var funcs []string
			for _, f := range folder.FindAllStringSubmatch(line, -1) {
				folders++
				funcs = append(funcs, testsIn(t, script, f[1])...)
			}
			for _, w := range wanted.FindAllStringSubmatch(line, -1) {
				pattern := strings.ReplaceAll(w[1]+w[2], `\$`, `$`)
				if pattern == "^$" || strings.Contains(strings.TrimSuffix(pattern, "$"), "$") {
					continue // none, or what the script is told
				}
				tests++
				for _, one := range alternatives(pattern) {
					if !anyMatches(t, one, funcs) {
						t.Errorf("%s: %q names no test: %s", script, one, line)
					}
				}
			}
		}
	}
	if folders < 15 || tests < 8 {
		t.Errorf("only %d folders and %d patterns were found in the scripts", folders, tests)
	}
}

// shellScripts are the files of scripts, and of .ci, that a shell runs.
func shellScripts(t *testing.T) []string {
	t.Helper()
	var all []string
	for _, top := range []string{"scripts", ".ci"} {
		err := filepath.WalkDir(top, func(path string, e fs.DirEntry, err error) error {
			if err == nil && e.Type().IsRegular() && filepath.Ext(path) == "" {
				all = append(all, path)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return all
}

// testsIn are the names of the tests and benchmarks of a package.
func testsIn(t *testing.T, script, folder string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil || len(files) == 0 {
		t.Errorf("%s names the package ./%s, which is not there", script, folder)
	}
	name := regexp.MustCompile(`(?m)^func ((?:Test|Benchmark|Fuzz)\w*)`)
	var all []string
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range name.FindAllStringSubmatch(string(text), -1) {
			all = append(all, m[1])
		}
	}
	return all
}

// alternatives takes a pattern with one group apart, as ^Test(A|B)$, so that each part is looked for.
func alternatives(pattern string) []string {
	before, rest, ok := strings.Cut(pattern, "(")
	inside, after, closed := strings.Cut(rest, ")")
	if !ok || !closed {
		return []string{pattern}
	}
	var all []string
	for _, one := range strings.Split(inside, "|") {
		all = append(all, before+one+after)
	}
	return all
}

func anyMatches(t *testing.T, pattern string, names []string) bool {
	t.Helper()
	r, err := regexp.Compile(pattern)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		if r.MatchString(n) {
			return true
		}
	}
	return false
}
