package places

import (
	"os"
	"path/filepath"
	"testing"
)

// Folders whose names begin with a dot hold what is only remembered: they are neither listed nor
// found.
func TestHiddenFoldersAreNotShown(t *testing.T) {
	root := t.TempDir()
	for _, name := range []string{"night", ".night.seen"} {
		if err := os.Mkdir(filepath.Join(root, name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(root, name, "run.toml"), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	p, err := Open(root)
	if err != nil {
		t.Fatal(err)
	}
	all, err := p.List()
	if err != nil || len(all) != 1 || all[0].Name != "night" {
		t.Errorf("listed are %v, %v", all, err)
	}
	if dir, err := p.Find(Run, ".night.seen"); err == nil {
		t.Errorf("found is %s", dir)
	}
}
