package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"leadmark/calib/input"
	"leadmark/calib/plan/subject"
	"leadmark/calib/rig"
	"leadmark/calib/runfile"
	"leadmark/calib/shoot"
)

// readers are those of the files whose examples the pages on formats show, by the heading that an
// example stands under.
func readers(t *testing.T) map[string]func(text []byte) error {
	return map[string]func(text []byte) error{
		"run.toml": func(text []byte) error {
			var f runfile.File
			_, err := input.DecodeStrict("run.toml", text, &f)
			return err
		},
		"subject.toml": func(text []byte) error {
			_, err := subject.Parse("subject.toml", text, input.Overrides{})
			return err
		},
		"rig.toml":   func(text []byte) error { _, err := rig.Parse("rig.toml", text); return err },
		"shoot.toml": func(text []byte) error { _, err := shoot.Parse(t.TempDir(), text); return err },
		"corrections.toml": func(text []byte) error {
			_, err := runfile.ParseCorrections("corrections.toml", text)
			return err
		},
	}
}

// example is a piece of TOML on a page, and the file's name that the heading above it has.
type example struct{ file, text string }

func examplesOf(t *testing.T, page string) (all []example) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "docs", page))
	if err != nil {
		t.Fatal(err)
	}
	file := ""
	for _, part := range regexp.MustCompile("(?ms)^#[^\n]*|^```toml\n.*?^```").FindAllString(string(text), -1) {
		if body, ok := strings.CutPrefix(part, "```toml\n"); ok {
			all = append(all, example{file, strings.TrimSuffix(body, "```")})
		} else if name := regexp.MustCompile(`[a-z]+\.toml`).FindString(part); name != "" {
			file = name
		}
	}
	return all
}

// Every key that the pages show is one that the program knows, with a value of its kind; a piece of
// a file may lack others.
func TestExamplesOfFormats(t *testing.T) {
	all, seen := readers(t), map[string]bool{}
	for _, page := range []string{"formats.md", "formats-additions.md"} {
		for _, e := range examplesOf(t, page) {
			read := all[e.file]
			if read == nil {
				t.Errorf("%s: an example stands under %q, which nothing reads", page, e.file)
				continue
			}
			seen[e.file] = true
			if err := read([]byte(e.text)); err != nil &&
				regexp.MustCompile(`unknown|expected|cannot|not valid|must be`).MatchString(err.Error()) {
				t.Errorf("%s, %s: %v", page, e.file, err)
			}
			if err := read([]byte("nonsense = 1\n" + e.text)); err == nil ||
				!strings.Contains(err.Error(), "unknown key nonsense") {
				t.Errorf("%s, %s: a key that nobody knows is let pass: %v", page, e.file, err)
			}
		}
	}
	for file := range all {
		if !seen[file] {
			t.Errorf("no page shows %s", file)
		}
	}
}
