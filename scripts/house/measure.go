package main

import (
	"bytes"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// room is what is measured of one package, without its tests.
type room struct {
	path     string
	files    []string // those of Go, by name
	lines    int      // of Go
	other    int      // lines of C, HTML, CSS and JavaScript
	longest  place    // the longest file
	widest   place    // the widest line, in columns
	function place    // the longest function, in lines
	circles  [][]string
	exported int // names at the top and methods of exported types
}

// measure type checks the packages and measures each.
func measure(dir string, patterns []string) ([]room, error) {
	all, err := list(dir, patterns)
	if err != nil {
		return nil, err
	}
	set := token.NewFileSet()
	open := importer.ForCompiler(set, "gc", exports(all))
	var rooms []room
	for _, p := range all {
		if p.DepOnly || p.Module == nil || !p.Module.Main || len(p.GoFiles)+len(p.CgoFiles) == 0 {
			continue
		}
		r := room{path: p.ImportPath}
		if err := r.read(p); err != nil {
			return nil, err
		}
		if err := r.check(p, set, open); err != nil {
			return nil, err
		}
		rooms = append(rooms, r)
	}
	slices.SortFunc(rooms, func(a, b room) int { return strings.Compare(a.path, b.path) })
	return rooms, nil
}

// read counts lines and columns.
func (r *room) read(p listed) error {
	r.files = slices.Sorted(slices.Values(slices.Concat(p.GoFiles, p.CgoFiles)))
	for _, name := range slices.Concat(r.files, p.CFiles, p.HFiles, p.EmbedFiles) {
		code := slices.Contains([]string{".go", ".c", ".h", ".html", ".css", ".js"}, filepath.Ext(name))
		if !code {
			continue
		}
		text, err := os.ReadFile(filepath.Join(p.Dir, name))
		if err != nil {
			return err
		}
		n := bytes.Count(text, []byte("\n"))
		if filepath.Ext(name) != ".go" {
			r.other += n
			continue
		}
		r.lines += n
		r.longest.raise(n, name)
		for i, line := range strings.Split(string(text), "\n") {
			r.widest.raise(columns(line), at(name, i+1))
		}
	}
	return nil
}

// check type checks a package and finds its circles, its longest function and its exported names.
func (r *room) check(p listed, set *token.FileSet, open types.Importer) error {
	var files []*ast.File
	for _, name := range p.CompiledGoFiles {
		if !filepath.IsAbs(name) {
			name = filepath.Join(p.Dir, name)
		}
		file, err := parser.ParseFile(set, name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		files = append(files, file)
	}
	info := &types.Info{Uses: map[*ast.Ident]types.Object{}}
	config := types.Config{Importer: mapped{open, p.ImportMap}, Sizes: types.SizesFor("gc", "amd64")}
	pkg, err := config.Check(p.ImportPath, set, files, info)
	if err != nil {
		return err
	}
	// Lines that cgo made point back to the file they were made of.
	fileOf := func(pos token.Pos) string { return filepath.Base(set.Position(pos).Filename) }
	uses := map[string]map[string]bool{}
	for _, name := range r.files {
		uses[name] = map[string]bool{}
	}
	for id, o := range info.Uses {
		from, to := fileOf(id.Pos()), fileOf(o.Pos())
		if o.Pkg() == pkg && uses[from] != nil && uses[to] != nil {
			uses[from][to] = true
		}
	}
	r.circles = circles(uses)
	for _, file := range files {
		r.functions(file, set)
	}
	r.exported = exported(pkg)
	return nil
}

// functions finds the longest function that people wrote.
func (r *room) functions(file *ast.File, set *token.FileSet) {
	for _, d := range file.Decls {
		f, ok := d.(*ast.FuncDecl)
		if !ok {
			continue
		}
		from, to := set.Position(f.Pos()), set.Position(f.End())
		if name := filepath.Base(from.Filename); slices.Contains(r.files, name) {
			r.function.raise(to.Line-from.Line+1, at(name, from.Line))
		}
	}
}

// exported counts what go doc shows: names at the top and the methods of exported types.
func exported(pkg *types.Package) int {
	n := 0
	for _, name := range pkg.Scope().Names() {
		o := pkg.Scope().Lookup(name)
		if !o.Exported() {
			continue
		}
		n++
		if named, ok := o.Type().(*types.Named); ok && isType(o) {
			for m := range named.Methods() {
				if m.Exported() {
					n++
				}
			}
		}
	}
	return n
}

func isType(o types.Object) bool {
	_, ok := o.(*types.TypeName)
	return ok
}

// mapped is an importer that knows which path stands for which, as go list says.
type mapped struct {
	types.Importer
	paths map[string]string
}

func (m mapped) Import(path string) (*types.Package, error) {
	if real, ok := m.paths[path]; ok {
		path = real
	}
	return m.Importer.Import(path)
}
