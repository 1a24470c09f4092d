package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

func testPages(t *testing.T) []manPage {
	t.Helper()
	var out bytes.Buffer
	return manPages(newApp(&out, &out).root())
}

// Every command has its page, every option with the words of --help, and no page refers to one that
// is not there.
func TestManPagesSayWhatHelpSays(t *testing.T) {
	var out bytes.Buffer
	root := newApp(&out, &out).root()
	pages := map[string]string{}
	for _, p := range manPages(root) {
		text := strings.ReplaceAll(string(p.text), `\-\-`, "--")
		pages[p.name] = strings.Join(strings.Fields(strings.ReplaceAll(text, `\&`, "")), " ")
	}
	for _, c := range visible(root) {
		page := pages[pageName(c)]
		if page == "" {
			t.Errorf("%s has no page", c.CommandPath())
		}
		want := strings.Fields(description(c))
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			_, usage := pflag.UnquoteUsage(f)
			want = append(want, "Fl -"+f.Name+" ", strings.Join(strings.Fields(usage), " "))
		})
		for _, w := range want {
			if !strings.Contains(page, w) {
				t.Errorf("the page of %s lacks %q", c.CommandPath(), w)
			}
		}
	}
	for name, page := range pages {
		for _, m := range regexp.MustCompile(`\.Xr (\S+) 1`).FindAllStringSubmatch(page, -1) {
			if pages[m[1]] == "" {
				t.Errorf("%s refers to %s, which is no page", name, m[1])
			}
		}
	}
	if len(pages) < 15 {
		t.Errorf("only %d pages", len(pages))
	}
}

// mandoc(1) checks the pages by the rules of mdoc(7). It looks for the pages referred to among
// those that are installed; the test above has looked.
func TestManPagesByMandoc(t *testing.T) {
	if _, err := exec.LookPath("mandoc"); err != nil {
		t.Skip("mandoc is not installed (Debian: apt-get install mandoc)")
	}
	dir := t.TempDir()
	var paths []string
	for _, p := range testPages(t) {
		paths = append(paths, filepath.Join(dir, p.name+".1"))
		if err := os.WriteFile(paths[len(paths)-1], p.text, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, line := range lint(t, paths...) {
		t.Error(line)
	}
	wrong := filepath.Join(dir, "wrong.1")
	if err := os.WriteFile(wrong, []byte(".Dd never\n.Dt WRONG 1\n.Os\n.Sh NAME\n.Zz\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if len(lint(t, wrong)) == 0 {
		t.Error("mandoc finds nothing wrong in a wrong page")
	}
}

// lint gives what mandoc has to say; its exit status only repeats it.
func lint(t *testing.T, paths ...string) []string {
	t.Helper()
	out, _ := exec.Command("mandoc", append([]string{"-T", "lint"}, paths...)...).CombinedOutput()
	return slices.DeleteFunc(strings.Split(strings.TrimSpace(string(out)), "\n"), func(line string) bool {
		return line == "" || strings.Contains(line, "referenced manual not found")
	})
}

// What mdoc gives a meaning keeps none: a dot that begins a line, a backslash, the hyphens of an option.
func TestFilled(t *testing.T) {
	if got, want := filled(`.toml files. Not \d, but --json`), "\\&.toml files.\nNot \\ed, but "+
		"\\-\\-json\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	for line := range strings.Lines(filled(strings.Repeat("thirteen char ", 40))) {
		if len(line) > width+1 {
			t.Errorf("a line of %d characters: %q", len(line), line)
		}
	}
}
