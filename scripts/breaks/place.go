package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
)

// broken is the text of the file in dir that declares a name, with old replaced by new inside that
// declaration, where old must stand exactly once; and the file's path. A method is named
// Type.Method.
func broken(dir, name, old, new string) (path string, text []byte, err error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return "", nil, err
	}
	for _, path := range files {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return "", nil, err
		}
		from, to, ok := declared(path, text, name)
		if !ok {
			continue
		}
		if n := strings.Count(string(text[from:to]), old); n != 1 {
			return "", nil, fmt.Errorf("%q stands %d times in %s, not once: the place is gone", old, n, name)
		}
		changed := strings.Replace(string(text[from:to]), old, new, 1)
		return path, []byte(string(text[:from]) + changed + string(text[to:])), nil
	}
	return "", nil, fmt.Errorf("nothing in %s is called %s: the place is gone", dir, name)
}

// declared says where in a file the declaration of a name stands.
func declared(path string, text []byte, name string) (from, to int, ok bool) {
	files := token.NewFileSet()
	f, err := parser.ParseFile(files, path, text, parser.SkipObjectResolution)
	if err != nil {
		return 0, 0, false
	}
	for _, d := range f.Decls {
		for _, n := range namesOf(d) {
			if n == name {
				return files.Position(d.Pos()).Offset, files.Position(d.End()).Offset, true
			}
		}
	}
	return 0, 0, false
}

func namesOf(d ast.Decl) (names []string) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Recv == nil {
			return []string{d.Name.Name}
		}
		t := d.Recv.List[0].Type
		if star, ok := t.(*ast.StarExpr); ok {
			t = star.X
		}
		if id, ok := t.(*ast.Ident); ok {
			return []string{id.Name + "." + d.Name.Name}
		}
	case *ast.GenDecl:
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.TypeSpec:
				names = append(names, s.Name.Name)
			case *ast.ValueSpec:
				for _, n := range s.Names {
					names = append(names, n.Name)
				}
			}
		}
	}
	return names
}
