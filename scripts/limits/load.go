package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// room is a package, parsed and type checked, without its tests.
type room struct {
	path  string // below the tree's top
	files []*ast.File
	info  *types.Info
	set   *token.FileSet
	types *types.Package
}

// load type checks rooms of the tree at dir.
func load(dir string, paths []string) ([]*room, error) {
	args := []string{"list", "-deps", "-export", "-json=ImportPath,Dir,Export,GoFiles"}
	for _, p := range paths {
		args = append(args, "./"+p)
	}
	cmd := exec.Command("go", args...)
	var stderr bytes.Buffer
	cmd.Dir, cmd.Stderr = dir, &stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w\n%s", err, stderr.String())
	}
	type listed struct {
		ImportPath, Dir, Export string
		GoFiles                 []string
	}
	all := map[string]listed{}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		all[p.ImportPath] = p
	}
	set := token.NewFileSet()
	open := importer.ForCompiler(set, "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(all[path].Export)
	})
	var rooms []*room
	for _, path := range paths {
		p, is := all["leadmark/"+path]
		if !is {
			return nil, fmt.Errorf("there is no package %s", path)
		}
		r := &room{path: path, set: set, info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{},
			Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}}}
		for _, name := range p.GoFiles {
			f, err := parser.ParseFile(set, filepath.Join(p.Dir, name), nil,
				parser.SkipObjectResolution|parser.ParseComments)
			if err != nil {
				return nil, err
			}
			r.files = append(r.files, f)
		}
		check := types.Config{Importer: open}
		if r.types, err = check.Check(p.ImportPath, set, r.files, r.info); err != nil {
			return nil, err
		}
		rooms = append(rooms, r)
	}
	return rooms, nil
}

// file is a place's file below the tree's top, of rooms loaded from there.
func (r *room) file(at token.Pos) string {
	return r.path + "/" + filepath.Base(r.set.Position(at).Filename)
}

func ours(pkg *types.Package) bool { return pkg != nil && strings.HasPrefix(pkg.Path(), "leadmark/") }
