package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Folders of both sides as programs leave them: files that one side alone wrote, a step that failed
// on one side, one that failed on both alike, a file that was given, and one that was given and
// changed.
func TestFoldersOfBothSides(t *testing.T) {
	b := &bench{dir: t.TempDir(), sides: [2]*tree{{name: "base"}, {name: "head"}}}
	for name, text := range map[string]string{
		"base/result.json": `{"lag_ms": 1, "u_lag_ms": 0.5}`, "head/result.json": `{"lag_ms": 2, "u_lag_ms": 0.5}`,
		"base/old.csv": "a\n1\n", "head/new.csv": "a\n1\n",
		"base/02-three.status": "exit status 0", "head/02-three.status": "exit status 0",
		"base/00-one.status": "exit status 0", "head/00-one.status": "exit status 1",
		"base/01-two.status": "exit status 2", "head/01-two.status": "exit status 2",
		"base/1.JPG": "picture", "head/1.JPG": "picture",
		"base/2.JPG": "picture", "head/2.JPG": "written over",
		"base/.night1.seen/x": "1", "head/.night1.seen/x": "2",
	} {
		path := filepath.Join(b.dir, "done", name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	v, err := b.compare("demo", false, "done/%s", []string{"1.JPG", "2.JPG"})
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if tell(&out, []verdict{v}, 20) {
		t.Error("all the same")
	}
	want := `demo                     7 files written (2 of them CSV),   2 the same; 1 given ones untouched
  note: 01-two: exit status 2 on both sides
  00-one.status: 1
    line 1, behind "exit status": 0 -> 1
  new.csv: 1
    the file: (absent) -> (there)
  old.csv: 1
    the file: (there) -> (absent)
  result.json: 1
    lag_ms: 1 -> 2  +2 u (u_lag_ms = 0.5)
  2.JPG: 1
    line 1: "picture" -> "written over"

7 files compared, 5 differ
farthest: demo result.json lag_ms: 1 -> 2  +2 u (u_lag_ms = 0.5)
`
	if out.String() != want {
		t.Errorf("told\n%s\nwant\n%s", &out, want)
	}
}
