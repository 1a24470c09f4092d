package pages

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// manual are the pages that people read.
func manual(t *testing.T) []Page {
	t.Helper()
	root := "../../.."
	paths, err := filepath.Glob(root + "/docs/*.md")
	if err != nil {
		t.Fatal(err)
	}
	var list []Page
	for _, path := range append(paths, root+"/README.md", root+"/DEVELOPERS.md", root+"/CHANGELOG.md") {
		p, err := Read(path)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
	return list
}

// Every link of the manual leads to a file that is there, and to a heading that is in it.
func TestLinks(t *testing.T) {
	byPath := map[string]Page{}
	for _, p := range manual(t) {
		byPath[filepath.Clean(p.Path)] = p
	}
	n := 0
	for _, p := range byPath {
		for _, l := range p.links() {
			n++
			target := filepath.Clean(p.Path)
			if l.path != "" {
				target = filepath.Join(filepath.Dir(p.Path), l.path)
			}
			if _, err := os.Stat(target); err != nil {
				t.Errorf("%s:%d: %v", p.Path, l.line, err)
			} else if other, ok := byPath[target]; l.anchor != "" &&
				(!ok || !slices.Contains(other.anchors(), l.anchor)) {
				t.Errorf("%s:%d: %s has no heading #%s", p.Path, l.line, target, l.anchor)
			}
		}
	}
	if n < 50 {
		t.Errorf("only %d links were found", n)
	}
}

// Every page of the manual can be reached from its index, and every picture is shown somewhere.
func TestNothingIsLost(t *testing.T) {
	shown := map[string]bool{}
	for _, p := range manual(t) {
		for _, l := range p.links() {
			if inDocs := filepath.Base(filepath.Dir(p.Path)) == "docs"; inDocs &&
				(filepath.Base(p.Path) == "index.md" || strings.HasPrefix(l.path, "pictures/")) {
				shown[l.path] = true
			}
		}
	}
	total := int64(0)
	for _, p := range manual(t) {
		if name := filepath.Base(p.Path); filepath.Base(filepath.Dir(p.Path)) == "docs" && name != "index.md" &&
			!shown[name] {
			t.Errorf("docs/index.md does not link to %s", name)
		}
	}
	pictures, err := filepath.Glob("../../../docs/pictures/*")
	if err != nil || len(pictures) < 5 {
		t.Fatalf("%d pictures, %v", len(pictures), err)
	}
	for _, path := range pictures {
		if !shown["pictures/"+filepath.Base(path)] {
			t.Errorf("no page shows %s", path)
		}
		if info, err := os.Stat(path); err == nil {
			total += info.Size()
		}
	}
	if total > 1<<20 {
		t.Errorf("the pictures take %d bytes; the manual is to stay below 1 MB", total)
	}
}

func TestRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "page.md")
	text := "# A page: of (mine)\n\n```sh\n# first\nleadmark demo a\n```\n```text\nold\n```\n[one](x.md#y) " +
		"`[no](link.md)` [two](https://example.org/z)\n```toml ~/a.toml\nk = 1 # " +
		"[no](either.md)\n```\n```text\nprose\n```\n"
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	p, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Steps) != 2 || !slices.Equal(p.Steps[0].Commands, []string{"leadmark demo a"}) ||
		p.Steps[0].Shown != [2]int{7, 8} || p.Steps[0].Line != 3 {
		t.Errorf("steps %+v", p.Steps)
	}
	if s := p.Steps[1]; s.File != "~/a.toml" || s.Text != "k = 1 # [no](either.md)\n" ||
		Place(s.File, "d", "h") != filepath.Join("h", "a.toml") {
		t.Errorf("the file is %+v", s)
	}
	if links := p.links(); len(links) != 1 || links[0] != (link{10, "x.md", "y"}) {
		t.Errorf("links %v", links)
	}
	if a := p.anchors(); !slices.Equal(a, []string{"a-page-of-mine"}) {
		t.Errorf("anchors %v", a)
	}
	if err := os.WriteFile(path, []byte("```sh\nleadmark\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(path); err == nil {
		t.Error("a block without an end is taken")
	}
}
