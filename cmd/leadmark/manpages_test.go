package main

import (
	"bytes"
	"cmp"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/pflag"

	"leadmark/cmd/leadmark/manual"
	"leadmark/testdata"
)

func testPages(t *testing.T) []manual.Page {
	t.Helper()
	var out bytes.Buffer
	return manual.Pages(newApp(&out, &out).root(), time.Now())
}

// Every command has its page, every option with the words of --help, and no page refers to one that
// is not there.
func TestManPagesSayWhatHelpSays(t *testing.T) {
	var out bytes.Buffer
	root := newApp(&out, &out).root()
	pages := map[string]string{}
	for _, p := range manual.Pages(root, time.Now()) {
		text := strings.ReplaceAll(string(p.Text), `\-\-`, "--")
		pages[p.Name] = strings.Join(strings.Fields(strings.ReplaceAll(text, `\&`, "")), " ")
	}
	for _, c := range manual.Visible(root) {
		page := pages[strings.ReplaceAll(c.CommandPath(), " ", "-")]
		if page == "" {
			t.Errorf("%s has no page", c.CommandPath())
		}
		about := cmp.Or(c.Long, c.Short+".")
		want := strings.Fields(strings.TrimSuffix(about, "\n\nExit status: "+manual.ExitStatus+"."))
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
	testdata.Program(t, "mandoc", "mandoc") // a wrong page below shows that it works
	dir := t.TempDir()
	var paths []string
	for _, p := range testPages(t) {
		paths = append(paths, filepath.Join(dir, p.Name+".1"))
		if err := os.WriteFile(paths[len(paths)-1], p.Text, 0o666); err != nil {
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
