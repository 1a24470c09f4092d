package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestParse(t *testing.T) {
	text := "# Title\n\nIt holds in 95.1 % of runs,\nin all 400.\n\n<!-- figures: echo 95.1 %, 400; prints: 95.1 %; 400 -->\n\n" +
		"It took 3 s.\n<!-- figures (an hour): scripts/slow -->\n\n```\n<!-- figures: shown -->\n```\n"
	all, err := parse("a.md", text)
	if err != nil || len(all) != 2 {
		t.Fatalf("%+v, %v", all, err)
	}
	if f := all[0]; f.command != "echo 95.1 %, 400" || len(f.prints) != 2 || f.long != "" || !strings.HasPrefix(f.above, "It holds") {
		t.Errorf("%+v", f)
	}
	if f := all[1]; f.command != "scripts/slow" || f.long != "an hour" || f.above != "It took 3 s." {
		t.Errorf("%+v", f)
	}
	for what, text := range map[string]string{
		"does not stand above": "95 %\n<!-- figures: x; prints: 96 % -->\n",
		"is not said":          "95 %\n<!-- figures: x -->\n",
		"cannot be read":       "95 %\n<!-- figures x -->\n",
		"nothing stands above": "<!-- figures (long): x -->\n",
	} {
		if _, err := parse("a.md", text); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("%q: %v, want %q", text, err, what)
		}
	}
}

// A figure that its command no longer prints, and a command that fails, are told.
func TestHold(t *testing.T) {
	said := map[string]string{}
	for command, want := range map[string]bool{"echo 95 %": true, "echo 94 %": false, "echo 95 %; exit 1": false} {
		err := figures{command: command, prints: []string{"95 %"}}.hold(said)
		if (err == nil) != want {
			t.Errorf("%s: %v", command, err)
		}
	}
}

// Every comment of the manual can be read, and the script or the test that it names is there.
func TestCommandsAreThere(t *testing.T) {
	all, err := pages(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 10 {
		t.Errorf("%d comments on figures", len(all))
	}
	for _, f := range all {
		found := false
		for word := range strings.FieldsSeq(f.command) {
			word = strings.TrimPrefix(word, "./")
			if strings.HasPrefix(word, "scripts/") || strings.HasPrefix(word, "vision") || strings.HasPrefix(word, "fit") ||
				strings.HasPrefix(word, "calib/") || strings.HasPrefix(word, "cmd/") || word == "." {
				_, err := os.Stat(filepath.Join("..", "..", strings.TrimSuffix(word, "/...")))
				found = err == nil
			}
			if found {
				break
			}
		}
		if !found {
			t.Errorf("%s:%d: nothing that %q runs is there", f.file, f.line, f.command)
		}
	}
}
