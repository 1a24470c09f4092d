package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
)

// listed is what go list says of one package.
type listed struct {
	ImportPath      string
	Dir             string
	Export          string // the file of what it exports, as the compiler writes it
	CompiledGoFiles []string
	GoFiles         []string
	CgoFiles        []string
	CFiles          []string
	HFiles          []string
	EmbedFiles      []string
	DepOnly         bool
	ImportMap       map[string]string
	Module          *struct{ Main bool }
}

// list runs go list on the packages and all that they import. It builds them, so that what cgo
// makes is at hand.
func list(dir string, patterns []string) ([]listed, error) {
	args := append([]string{"list", "-json", "-deps", "-export", "-compiled"}, patterns...)
	cmd := exec.Command("go", args...)
	var stderr bytes.Buffer
	cmd.Dir, cmd.Stderr = dir, &stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w\n%s", err, stderr.String())
	}
	var all []listed
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return all, nil
		} else if err != nil {
			return nil, err
		}
		all = append(all, p)
	}
}

// exports opens what a package exports, for the type checker.
func exports(all []listed) func(path string) (io.ReadCloser, error) {
	files := map[string]string{}
	for _, p := range all {
		files[p.ImportPath] = p.Export
	}
	return func(path string) (io.ReadCloser, error) {
		if files[path] == "" {
			return nil, fmt.Errorf("nothing is known of what %s exports", path)
		}
		return os.Open(files[path])
	}
}
