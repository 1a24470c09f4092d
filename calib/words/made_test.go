package words

import (
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

// made is a note that the source makes.
type made struct {
	key    string // code, or code/case
	values int
	at     string
}

// notLiteral are the calls whose code or case is no literal, by file and in their order, with the
// notes that they make. The number of values is that of the call.
func notLiteral() map[string][][]string {
	nothing := []string{"order/nothing", "pause/nothing", "rest/nothing", "setting/nothing", "two-lags/nothing"}
	return map[string][][]string{
		"fit/onelag/checks.go":  {nothing},
		"calib/shoot/advice.go": {{"not-sharp/focus", "not-sharp/motion", "not-sharp/shake"}},
		"calib/shoot/check.go":  {{"gone", "gone/no-empty", "false-trips", "false-trips/no-empty"}},
	}
}

// changed are notes made of others, with the note that each is made of and the values added.
func changed() map[string]made {
	all := map[string]made{
		"odd-shots/told-frames":   {key: "odd-shots/told"},
		"odd-shots/untold-frames": {key: "odd-shots/untold"},
	}
	for _, alarm := range []string{"order", "pause", "rest", "setting", "setting/two", "two-lags"} {
		all["lag-"+alarm] = made{key: alarm, values: 1}
	}
	return all
}

// Every note that the source makes has its sentence, which takes as many values as are given, and
// each of them; every sentence has a note that is made.
func TestEveryNoteHasItsSentence(t *testing.T) {
	notes := notesOf(t, filepath.Join("..", ".."))
	for key, from := range changed() {
		i := slices.IndexFunc(notes, func(m made) bool { return m.key == from.key })
		if i < 0 {
			t.Errorf("%s is to be made of %s, which nothing makes", key, from.key)
			continue
		}
		notes = append(notes, made{key, notes[i].values + from.values, notes[i].at})
	}
	all, used := sentences(), map[string]bool{}
	for _, m := range notes {
		used[m.key] = true
		if all[m.key] == nil {
			t.Errorf("%s: the note %s has no sentence", m.at, m.key)
			continue
		}
		tryValues(t, m, all[m.key])
	}
	for _, key := range slices.Sorted(maps.Keys(all)) {
		if !used[key] {
			t.Errorf("the sentence %s belongs to no note that is made", key)
		}
	}
}

// tryValues says the note with values of every kind, and then without each of them.
func tryValues(t *testing.T, m made, say say) {
	t.Helper()
	code, which, _ := strings.Cut(m.key, "/")
	n := note.Note{Code: code, Case: which}
	for i := range m.values {
		n.Values = append(n.Values, filled(i))
	}
	whole := say(n)
	if strings.Contains(whole, "%!") || strings.Contains(whole, "<nil>") || whole == "" {
		t.Errorf("%s: %s with %d values: %q", m.at, m.key, m.values, whole)
	}
	none := make([]note.Value, m.values)
	for i := range m.values {
		less, alone := n, n
		less.Values, alone.Values = slices.Clone(n.Values), slices.Clone(none)
		less.Values[i], alone.Values[i] = note.Value{}, filled(i)
		n := n
		n.Values = none
		if say(less) == whole && say(alone) == say(n) {
			t.Errorf("%s: value %d of %s is not said: %q", m.at, i, m.key, whole)
		}
	}
	more := n
	more.Values = append(slices.Clone(n.Values), filled(m.values))
	if s := say(more); s != whole && !strings.Contains(s, "%!(EXTRA") {
		t.Errorf("%s: %s takes more than its %d values: %q", m.at, m.key, m.values, s)
	}
}

// filled is a value that is a number, a text and a list at once, other than its neighbours.
func filled(i int) note.Value {
	text := fmt.Sprintf("text-%d", i)
	return note.Value{Number: 1.75 + 0.5*float64(i), Text: text, List: []string{text, text + "b"}}
}

// notesOf reads the calls of note.New and note.Of in the source below a folder.
func notesOf(t *testing.T, root string) []made {
	t.Helper()
	var all []made
	left := notLiteral()
	for _, top := range []string{"fit", "vision", "calib", "cmd"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") ||
				strings.Contains(path, "testdata") {
				return err
			}
			files := token.NewFileSet()
			file, err := parser.ParseFile(files, path, nil, 0)
			if err != nil {
				return err
			}
			rel, _ := filepath.Rel(root, path)
			name := filepath.ToSlash(rel)
			ast.Inspect(file, func(x ast.Node) bool {
				call, isCall := x.(*ast.CallExpr)
				skip, ok := 0, false
				if isCall {
					skip, ok = makesNote(call)
				}
				if !ok {
					return true
				}
				at := fmt.Sprintf("%s:%d", name, files.Position(call.Pos()).Line)
				if call.Ellipsis.IsValid() {
					t.Errorf("%s: how many values are given cannot be seen", at)
				}
				keys, literal := keysOf(call, skip)
				if !literal {
					if len(left[name]) == 0 {
						t.Errorf("%s: code and case are no literals, and the test does not name them", at)
						return true
					}
					keys, left[name] = left[name][0], left[name][1:]
				}
				for _, key := range keys {
					all = append(all, made{key, len(call.Args) - skip, at})
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for name, calls := range left {
		if len(calls) > 0 {
			t.Errorf("%s: the test names %v, which are not made there", name, calls)
		}
	}
	return all
}

// makesNote says whether a call is note.New or note.Of, and how many of its arguments are no values.
func makesNote(call *ast.CallExpr) (skip int, ok bool) {
	f, ok := call.Fun.(*ast.SelectorExpr)
	if !ok {
		return 0, false
	}
	if x, isName := f.X.(*ast.Ident); !isName || x.Name != "note" {
		return 0, false
	}
	skip = map[string]int{"New": 1, "Of": 2}[f.Sel.Name]
	return skip, skip > 0
}

// keysOf is the code and the case of a call, where they are literals.
func keysOf(call *ast.CallExpr, skip int) (keys []string, literal bool) {
	var parts []string
	for _, arg := range call.Args[:skip] {
		lit, ok := arg.(*ast.BasicLit)
		if !ok {
			return nil, false
		}
		s, err := strconv.Unquote(lit.Value)
		if err != nil {
			return nil, false
		}
		parts = append(parts, s)
	}
	return []string{strings.TrimSuffix(strings.Join(parts, "/"), "/")}, true
}
