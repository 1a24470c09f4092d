package shoot

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/calib/store"
	"leadmark/calib/store/storetest"
)

// Every single step of a learn fails in every way: the learned subject's file is there whole or not
// at all, and the old one is as it was. What a fault left behind does not keep the next from being
// written.
func TestEveryFaultOfALearn(t *testing.T) {
	text := []byte("name = \"mason bee\"\nspeed_mps = 1.31\n" +
		strings.Repeat("# a line of sources\n", 50))
	storetest.Every(t, storetest.Case{
		Set: func(t *testing.T, dir string) {
			if err := os.WriteFile(filepath.Join(dir, "bee.toml"), []byte("name = \"mason bee\"\n"),
				0o666); err != nil {
				t.Fatal(err)
			}
		},
		Do: func(d store.Disk, dir string) error {
			_, err := writeSubject(t.Context(), d, filepath.Join(dir, "bee.toml"), text)
			return err
		},
		State: func(t *testing.T, dir string) string {
			var found []string
			entries, err := os.ReadDir(dir)
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range entries {
				if strings.HasPrefix(e.Name(), ".") {
					continue // the hidden part, which the next one takes
				}
				data, _ := os.ReadFile(filepath.Join(dir, e.Name()))
				found = append(found, e.Name()+"\n"+string(data))
			}
			return strings.Join(found, "\n")
		},
	})
}
