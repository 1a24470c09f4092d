package main

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"leadmark/testdata"
)

// write lays a module of some files down.
func write(t *testing.T, files map[string]string) string {
	t.Helper()
	files["go.mod"] = "module house\n\ngo 1.24\n"
	return testdata.Files(t, files)
}

// A method that stands apart from its type closes a circle as functions do, and so do three files
// that use each other in turn; a test and another package do not.
func TestCircles(t *testing.T) {
	dir := write(t, map[string]string{
		"a.go":        "package house\n\ntype T struct{ field int }\n\nfunc C(T) {}\n",
		"b.go":        "package house\n\nfunc (T) Method() {\n\thelp()\n}\n",
		"c.go":        "package house\n\nfunc help() { T{}.Method() }\n",
		"d.go":        "package house\n\ntype pair[K any] struct{ key K }\n\nvar first = e()\n",
		"e.go":        "package house\n\nfunc e() (n int) { f(); return }\n",
		"f.go":        "package house\n\nfunc f() pair[int] { return pair[int]{} }\n",
		"a_test.go":   "package house\n\nfunc used() { help() }\n",
		"inner/in.go": "package inner\n\nimport \"house\"\n\nfunc F() { house.C(house.T{}) }\n",
	})
	rooms, err := measure(dir, []string{"./..."})
	if err != nil {
		t.Fatal(err)
	}
	if len(rooms) != 2 || rooms[0].path != "house" || rooms[1].path != "house/inner" {
		t.Fatalf("measured %+v", rooms)
	}
	r := rooms[0]
	want := [][]string{{"d.go", "e.go", "f.go"}, {"b.go", "c.go"}}
	if !slices.EqualFunc(r.circles, want, slices.Equal) {
		t.Errorf("circles %v, want %v", r.circles, want)
	}
	if r.exported != 3 { // T, its Method, C
		t.Errorf("%d exported names, want 3", r.exported)
	}
	if len(r.files) != 6 || r.lines != 5+5+3+5+3+3 || r.longest != (place{5, "a.go"}) {
		t.Errorf("%d files, %d lines, longest %v", len(r.files), r.lines, r.longest)
	}
	if r.function != (place{3, "b.go:3"}) || r.widest != (place{len("func f() pair[int] { return pair[int]{} }"),
		"f.go:3"}) {
		t.Errorf("longest function %v, widest line %v", r.function, r.widest)
	}
	if len(rooms[1].circles) != 0 {
		t.Errorf("a single file lies in circles %v", rooms[1].circles)
	}
}

func TestSummary(t *testing.T) {
	var b bytes.Buffer
	table(&b, []room{
		{path: "one", files: []string{"a.go", "b.go", "c.go"}, lines: 30, other: 2,
			circles: [][]string{{"a.go", "b.go"}}, widest: place{90, "a.go:1"}},
		{path: "two", files: []string{"d.go"}, lines: 10, function: place{7, "d.go:2"}},
	}, true)
	for _, want := range []string{
		"2 packages, 4 files, 40 lines of Go, 2 of C", "2 of 4, 50 %", "90 columns, one/a.go:1",
		"7 lines, two/d.go:2", "one, 2 files: a.go b.go",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}
