package main

import (
	_ "embed"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

//go:embed limitlog.go.txt
var limitlogSource string

//go:embed pass.go.txt
var passSource string

// build copies the tree to a folder, instruments the copy and builds what reads frames with it.
func build(o options) error {
	tree := filepath.Join(o.work, "tree")
	if err := os.RemoveAll(tree); err != nil {
		return err
	}
	if err := copyTree(".", tree); err != nil {
		return err
	}
	rooms, err := load(tree, append(reader(), beside()...))
	if err != nil {
		return err
	}
	t := instrument(rooms)
	if err := t.write(); err != nil {
		return err
	}
	for name, text := range map[string]string{"limitlog/limitlog.go": limitlogSource, "limitlog/sizes.go": sizes(len(t.sites), len(t.numbers)),
		"scripts/rulerstudy/pass.go": passSource} {
		path := filepath.Join(tree, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return err
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			return err
		}
	}
	if err := t.stored().write(o.work); err != nil {
		return err
	}
	cmd := exec.Command("go", "build", "-buildvcs=false", "-o", filepath.Join(o.work, "pass"), "./scripts/rulerstudy")
	cmd.Dir = tree
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("the instrumented copy: %w\n%s", err, out)
	}
	return nil
}

// sizes is the file of the logger that says how much there is.
func sizes(sites, numbers int) string {
	return fmt.Sprintf("package limitlog\n\n// What there is.\nconst (\n\tSites = %d\n\tNumbers = %d\n)\n", sites, numbers)
}
