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

// A folder, and a file in one, that a link leads out of the root to is neither shown nor opened; one that
// leads elsewhere inside is.
func TestLinksOutsideAreNotFollowed(t *testing.T) {
	top := t.TempDir()
	root := filepath.Join(top, "runs")
	for _, dir := range []string{"runs/night", "other"} {
		if err := os.MkdirAll(filepath.Join(top, dir), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	for _, file := range []string{"runs/night/run.toml", "runs/night/a.jpg", "other/run.toml", "other/secret.jpg"} {
		if err := os.WriteFile(filepath.Join(top, file), []byte("a"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for from, to := range map[string]string{"runs/out": "other", "runs/in": "runs/night",
		"runs/night/out.jpg": "other/secret.jpg", "runs/night/in.jpg": "runs/night/a.jpg"} {
		if err := os.Symlink(filepath.Join(top, to), filepath.Join(top, from)); err != nil {
			t.Skipf("no links here: %v", err)
		}
	}
	p, err := Open(root)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]bool{"night": true, "in": true, "out": false, "..": false} {
		if _, err := p.Find(Run, name); (err == nil) != want {
			t.Errorf("%s: %v, to be found: %v", name, err, want)
		}
	}
	for name, want := range map[string]bool{"a.jpg": true, "in.jpg": true, "out.jpg": false} {
		f, err := p.OpenFile(filepath.Join(p.Root, "night"), name)
		if (err == nil) != want {
			t.Errorf("%s: %v, to be opened: %v", name, err, want)
		}
		if f != nil {
			_ = f.Close()
		}
	}
}
