package check

import (
	"os"
	"path/filepath"
	"testing"
)

// A link that lies where a cut-out or its unfinished file goes is replaced and not followed.
func TestCutoutsFollowNoPlantedLink(t *testing.T) {
	for link, write := range map[string]func(dir string) error{
		"a-cutout.png": func(dir string) error {
			return writeNew(filepath.Join(dir, "a-cutout.png"), []byte("x"), true)
		},
		".b-cutout.png.part": func(dir string) error {
			return writeNew(filepath.Join(dir, "b-cutout.png"), []byte("x"), false)
		},
	} {
		dir, victim := t.TempDir(), filepath.Join(t.TempDir(), "letter")
		if err := os.WriteFile(victim, []byte("a letter"), 0o666); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(victim, filepath.Join(dir, link)); err != nil {
			t.Fatal(err)
		}
		if err := write(dir); err != nil {
			t.Errorf("%s: %v", link, err)
		}
		if text, err := os.ReadFile(victim); string(text) != "a letter" {
			t.Errorf("%s: the file elsewhere holds %d bytes now, %v", link, len(text), err)
		}
	}
}
