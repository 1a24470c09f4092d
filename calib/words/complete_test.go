package words

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"leadmark/fit/note"
)

// made is a note that the source makes: where, and how many values it gives it.
type made struct {
	at     string
	values int
}

// unwritten are the notes whose code, case or values are worked out, by the file and the call's first
// argument: what they can come to.
func unwritten() map[string]map[string]int {
	return map[string]map[string]int{
		"vision/frame/integrity/raw.go bad.Code": {"damaged/inside-raw": 2, "truncated/inside-raw": 2,
			"too-large/inside-raw": 2, "unsupported-format/inside-raw": 2},
		"calib/warnings.go code": {"exposure-time-varies": 4, "f-number-varies": 4, "iso-varies": 4,
			"focal-length-varies": 4, "size-varies": 4, "body-varies": 4},
		"fit/notes.go ?": {"lag-order": 2, "lag-pause": 2, "lag-rest": 2, "lag-setting": 2, "lag-two-lags": 2},
		"fit/onelag/checks.go c.Name": {"order/nothing": 1, "pause/nothing": 1, "rest/nothing": 1,
			"setting/nothing": 1, "two-lags/nothing": 1},
		"calib/shoot/advice.go ?":   {"not-sharp/focus": 2, "not-sharp/motion": 2, "not-sharp/shake": 2},
		"calib/shoot/check.go code": {"gone": 2, "gone/no-empty": 2, "false-trips": 2, "false-trips/no-empty": 2},
	}
}

// Every note that the source makes has its sentence, which takes all the values it is given and no
// more; and every sentence is of a note that is made.
func TestEveryNoteHasItsSentence(t *testing.T) {
	list := notesOf(t, filepath.Join("..", ".."))
	if len(list) < 100 {
		t.Fatalf("only %d notes were found in the source", len(list))
	}
	all := sentences()
	for key, places := range list {
		say := all[key]
		if say == nil {
			t.Errorf("%s: the note %s has no sentence", places[0].at, key)
			continue
		}
		for _, m := range places {
			for _, wrong := range wrongValues(say, key, m.values) {
				t.Errorf("%s: %s of %d values: %s", m.at, key, m.values, wrong)
			}
		}
	}
	for key := range all {
		if list[key] == nil {
			t.Errorf("no note %s is made", key)
		}
	}
}

// wrongValues says where a sentence takes other values than a note has.
func wrongValues(s say, key string, n int) (wrong []string) {
	code, which, _ := strings.Cut(key, "/")
	with := func(n, at int, v note.Value) string {
		told := note.Note{Code: code, Case: which}
		for range n {
			told.Values = append(told.Values, note.Value{Number: 3.25, Text: "t", List: []string{"k", "l"}})
		}
		if at >= 0 {
			told.Values[at] = v
		}
		return s(told)
	}
	differs := func(n, at int) bool {
		for _, v := range others() {
			if with(n, at, v) != with(n, -1, v) {
				return true
			}
		}
		return false
	}
	plain := with(n, -1, note.Value{})
	if strings.TrimSpace(plain) == "" || strings.Contains(plain, "%!") {
		wrong = append(wrong, fmt.Sprintf("it says %q", plain))
	}
	for i := range n {
		if !differs(n, i) {
			wrong = append(wrong, fmt.Sprintf("value %d does not stand in it", i))
		}
	}
	if more := with(n+1, -1, note.Value{}); !strings.Contains(more, "%!(EXTRA") && differs(n+1, n) {
		wrong = append(wrong, "it takes one more")
	}
	return wrong
}

// others are values of each kind that differ from those that a sentence is tried with.
func others() []note.Value {
	same := note.Value{Number: 3.25, Text: "t", List: []string{"k", "l"}}
	number, small, one, negative, text, list, notes := same, same, same, same, same, same, same
	number.Number, small.Number, one.Number, negative.Number = 7000, 3e-4, 1, -3.25
	text.Text, list.List, notes.Notes = "u", []string{"m", "n", "o"}, []note.Note{note.New("still")}
	return []note.Value{number, small, one, negative, text, list, notes}
}

// notesOf finds the calls of note.New and note.Of in the tree, by code and case.
func notesOf(t *testing.T, root string) map[string][]made {
	t.Helper()
	files := sources(t, root)
	texts := constants(files)
	worked := unwritten()
	found := map[string][]made{}
	for name, file := range files {
		ast.Inspect(file, func(x ast.Node) bool {
			if c, ok := x.(*ast.CompositeLit); ok && isOf(c.Type, "Note") && len(c.Elts) > 0 {
				t.Errorf("%s: a note is made without note.New or note.Of", name)
			}
			call, ok := x.(*ast.CallExpr)
			if !ok || !isOf(call.Fun, "New") && !isOf(call.Fun, "Of") {
				return true
			}
			key, ok := keyOf(call, filepath.Dir(name), texts)
			if ok && call.Ellipsis == token.NoPos {
				found[key] = append(found[key], made{name, len(call.Args) - keyArgs(call)})
				return true
			}
			place := name + " " + word(call.Args[0])
			keys, listed := worked[place]
			if !listed {
				t.Errorf("%s: list what this note can come to", place)
			}
			for key, n := range keys {
				found[key] = append(found[key], made{name, n})
			}
			return true
		})
	}
	return found
}

// keyArgs is how many of a call's arguments are code and case.
func keyArgs(call *ast.CallExpr) int {
	if isOf(call.Fun, "Of") {
		return 2
	}
	return 1
}

// keyOf is a call's code and case, where both stand there or are constants.
func keyOf(call *ast.CallExpr, dir string, texts map[string]string) (string, bool) {
	parts := []string{"", ""}
	for i, arg := range call.Args[:keyArgs(call)] {
		text, ok := textOf(arg, dir, texts)
		if !ok {
			return "", false
		}
		parts[i] = text
	}
	return key(parts[0], parts[1]), true
}

// textOf is a string that stands there, a constant of the package in dir or of another one of ours.
func textOf(x ast.Expr, dir string, texts map[string]string) (text string, ok bool) {
	if lit, is := x.(*ast.BasicLit); is {
		text, err := strconv.Unquote(lit.Value)
		return text, err == nil
	}
	name := word(x)
	if !strings.Contains(name, ".") {
		name = filepath.Base(dir) + "." + name
	}
	text, ok = texts[name]
	return text, ok
}

// word is an identifier, or two with a dot between.
func word(x ast.Expr) string {
	switch x := x.(type) {
	case *ast.Ident:
		return x.Name
	case *ast.SelectorExpr:
		return word(x.X) + "." + x.Sel.Name
	}
	return "?"
}

func isOf(x ast.Expr, name string) bool { return x != nil && word(x) == "note."+name }

// sources parses the program's files but for those of package note and the tests, by their names
// below the root.
func sources(t *testing.T, root string) map[string]*ast.File {
	t.Helper()
	files := map[string]*ast.File{}
	for _, room := range []string{"fit", "vision", "calib", "cmd"} {
		err := filepath.WalkDir(filepath.Join(root, room), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() && (d.Name() == "testdata" || d.Name() == "note") {
				return cmp.Or(err, filepath.SkipDir)
			}
			if d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return nil
			}
			name, err := filepath.Rel(root, path)
			if err != nil {
				return err
			}
			files[filepath.ToSlash(name)], err = parser.ParseFile(token.NewFileSet(), path, nil, 0)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return files
}

// constants are the files' constants that are strings, as package.Name.
func constants(files map[string]*ast.File) map[string]string {
	texts := map[string]string{}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		for _, d := range files[name].Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.CONST {
				continue
			}
			for _, s := range g.Specs {
				v := s.(*ast.ValueSpec)
				for i, x := range v.Values {
					if lit, ok := x.(*ast.BasicLit); ok && lit.Kind == token.STRING {
						text, _ := strconv.Unquote(lit.Value)
						texts[filepath.Base(filepath.Dir(name))+"."+v.Names[i].Name] = text
					}
				}
			}
		}
	}
	return texts
}
