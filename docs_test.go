package leadmark_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A reader of go doc must find a sentence at every package and every exported name.
func TestEverythingPublicIsExplained(t *testing.T) {
	explained := map[string]bool{} // by folder: some file has the package comment
	for _, path := range treeFiles(t) {
		if filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, parser.ParseComments)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		dir := filepath.Dir(path)
		explained[dir] = explained[dir] || file.Doc != nil
		for _, name := range bare(file) {
			t.Errorf("%s: %s has no comment", set.Position(name.Pos()), name.Name)
		}
	}
	for dir, ok := range explained {
		if !ok {
			t.Errorf("%s has no package comment", dir)
		}
	}
	if len(explained) < 5 {
		t.Errorf("only %d packages were looked at", len(explained))
	}
}

// bare returns the exported names of a file that no comment explains.
func bare(file *ast.File) []*ast.Ident {
	var list []*ast.Ident
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Doc == nil && d.Name.IsExported() && exportedReceiver(d) {
				list = append(list, d.Name)
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				list = append(list, bareSpec(d, s)...)
			}
		}
	}
	return list
}

// bareSpec looks at one type, or at the names of one line of constants or variables, for which a
// comment over the whole group will do.
func bareSpec(d *ast.GenDecl, spec ast.Spec) []*ast.Ident {
	var list []*ast.Ident
	switch s := spec.(type) {
	case *ast.TypeSpec:
		if s.Name.IsExported() && s.Doc == nil && (d.Lparen.IsValid() || d.Doc == nil) {
			list = append(list, s.Name)
		}
	case *ast.ValueSpec:
		for _, name := range s.Names {
			if name.IsExported() && s.Doc == nil && s.Comment == nil && d.Doc == nil {
				list = append(list, name)
			}
		}
	}
	return list
}

// exportedReceiver says whether a method is seen from outside: that of an unexported type is not.
func exportedReceiver(d *ast.FuncDecl) bool {
	if d.Recv == nil || len(d.Recv.List) == 0 {
		return true
	}
	kind := d.Recv.List[0].Type
	if star, ok := kind.(*ast.StarExpr); ok {
		kind = star.X
	}
	if index, ok := kind.(*ast.IndexExpr); ok { // a generic type
		kind = index.X
	}
	name, ok := kind.(*ast.Ident)
	return !ok || name.IsExported()
}

// No file may hold a path of the machine it was written on, or the host of a package registry: it
// would hold there alone.
func TestNoMachinePaths(t *testing.T) {
	// Written in pieces, so that this file does not find itself.
	paths := regexp.MustCompile(`(^|[^\w.:/-])/(` +
		strings.Join([]string{"work", "root", "home", "farm", "Users"}, "|") + `)(/|\b)`)
	hosts := regexp.MustCompile("proxy" + `\.golang|deb` + `\.debian|registry` + `\.npm|sum` + `\.golang`)
	n := 0
	for _, path := range treeFiles(t) {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if strings.IndexByte(string(data[:min(len(data), 512)]), 0) >= 0 || filepath.Base(path) == "go.sum" {
			continue // a picture, or the check sums of modules
		}
		n++
		for i, line := range strings.Split(string(data), "\n") {
			if paths.MatchString(line) || hosts.MatchString(line) {
				t.Errorf("%s:%d: %s", path, i+1, strings.TrimSpace(line))
			}
		}
	}
	if n < 20 {
		t.Errorf("only %d files were looked at", n)
	}
}

// No test may depend on how quick the machine is: waits end on an event, work is counted, and times
// are for benchmarks, in files of their own, which scripts run and judge.
func TestNoTestLooksAtTheClock(t *testing.T) {
	clock := regexp.MustCompile("\\b(Sleep|Since|Elapsed|Getrusage|Milliseconds|Microseconds|NewTicker|Tick|Benchmark)" + `\(`)
	n := 0
	for _, path := range treeFiles(t) {
		if !strings.HasSuffix(path, "_test.go") || strings.HasSuffix(path, "bench_test.go") {
			continue
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		n++
		for i, line := range strings.Split(string(data), "\n") {
			if clock.MatchString(line) {
				t.Errorf("%s:%d: %s", path, i+1, strings.TrimSpace(line))
			}
		}
	}
	if n < 20 {
		t.Errorf("only %d files were looked at", n)
	}
}

// treeFiles lists the files of the project, without what is built or drawn (see .gitignore).
func treeFiles(t *testing.T) []string {
	t.Helper()
	var list []string
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (path == ".git" || path == "bin" || path == "demo"):
			return filepath.SkipDir
		case path == ".git": // of a second work tree, which is a file that leads to the first
			return nil
		case d.Type().IsRegular() && filepath.Ext(path) != ".test" && filepath.Ext(path) != ".out":
			list = append(list, path)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}
