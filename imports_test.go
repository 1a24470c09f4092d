// Package leadmark_test holds the whole tree to its shape: who may import whom, that everything public is
// explained, and that no file knows the machine it was written on.
package leadmark_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// module is the path before every package of ours.
const module = "leadmark"

// opencv is the only dependency that needs a C library.
const opencv = "gocv.io/x/gocv"

// mayImport is the table of the house: fit knows numbers, vision pictures, calib what a rig's calibration is, cmd what
// people see. A package may import what stands in its row and nothing else of ours. Tests may import testdata too.
func mayImport() map[string][]string {
	return map[string][]string{
		"": nil, // this folder: tests of the tree alone

		"fit":      nil,
		"fit/unit": nil,

		"vision": {
			"vision/frame", "vision/marks", "vision/pixel", "vision/ruler", "vision/scene",
		},
		"vision/animal": nil, // what a picture shows of the subject
		"vision/edge":   {"fit", "vision/animal", "vision/pixel", "vision/ruler"},
		"vision/frame":  nil,
		"vision/marks":  {"fit", "vision/edge", "vision/pixel", "vision/ruler"},
		// ruler: a place in a picture is its Point
		"vision/pixel":        {"fit", "vision/frame", "vision/ruler"},
		"vision/pixel/native": {"vision/pixel"}, // libraries in C, passed in by the commands
		"vision/ruler":        {"fit"},
		"vision/scene":        {"vision/pixel", "vision/ruler"},
		"vision/subject":      {"fit", "vision/animal", "vision/edge", "vision/frame", "vision/pixel"},
		// prints the coded ruler, whose layout and code are ruler's, and slates
		"vision/ruler/printed": {"vision/ruler"},
		"vision/synth/animals": nil,              // draws animals
		"vision/synth/runs":    {"vision/ruler"}, // draws rulers

		"calib":       {"fit", "vision/frame", "vision/ruler", "calib/input", "calib/store"},
		"calib/input": nil, // what people write, read strictly
		"calib/plan":  {"fit", "calib/input", "calib/rig"},
		// calibrations over time are compared and charted by fit
		"calib/rig": {"fit", "calib", "calib/input", "calib/store"},
		// pictures are looked at through a function it is given
		"calib/shoot":           {"vision/animal", "vision/frame", "calib/input", "calib/plan", "calib/store"},
		"calib/store":           {"calib/input"}, // files that must not be lost
		"calib/store/storetest": {"calib/input", "calib/store"},

		"cmd/leadmark": {
			"fit", "fit/unit", "vision", "vision/animal", "vision/frame", "vision/pixel/native",
			"vision/ruler", "vision/ruler/printed", "vision/subject", "vision/synth/animals", "vision/synth/runs", "calib", "calib/input",
			"calib/plan", "calib/rig", "calib/shoot", "calib/store", "cmd/leadmark/desk",
			"cmd/leadmark/report",
		},
		// pictures are looked at through functions it is given
		"cmd/leadmark/desk": {
			"fit", "vision/frame", "vision/ruler", "calib", "calib/input", "calib/plan", "calib/rig",
			"calib/shoot", "calib/store", "cmd/leadmark/report",
		},
		// fit, frame and ruler: a calib.Result is made of their values
		"cmd/leadmark/report": {
			"fit", "fit/unit", "vision/animal", "vision/frame", "vision/ruler", "calib", "calib/input",
			"calib/plan", "calib/rig", "calib/shoot", "calib/store",
		},

		"scripts/benchmark": {"vision/synth/runs"},
		// looks at what synth/animals draws
		"scripts/checkstudy": {
			"vision/animal", "vision/frame", "vision/pixel/native", "vision/subject",
			"vision/synth/animals", "calib/shoot",
		},
		"scripts/codesearch":     nil,
		"scripts/comparecommits": nil, // builds and runs two other trees
		"scripts/drawruns":       {"vision/synth/runs"},
		"scripts/drawshoot":      {"vision/synth/animals"},
		"scripts/house":          nil, // type checks the tree and imports none of it
		"scripts/licences":       nil,
		// plans, looks at what is drawn, plans again
		"scripts/loopstudy": {
			"vision/animal", "vision/frame", "vision/pixel/native", "vision/subject",
			"vision/synth/animals", "calib/input", "calib/plan", "calib/shoot",
		},
		"scripts/manual":       {"cmd/leadmark/report", "scripts/manual/pages"},
		"scripts/manual/pages": nil, // reads the manual
		"scripts/planbench":    {"calib/plan", "calib/rig"},
		// reads what synth/runs draws
		"scripts/readstudy": {
			"vision", "vision/frame", "vision/pixel/native", "vision/ruler", "vision/synth/runs", "calib",
		},
	}
}

// needsC are the packages that may not build without OpenCV and libjpeg: who passes them in.
func needsC() []string {
	return []string{
		"vision/pixel/native", "cmd/leadmark", "scripts/readstudy", "scripts/checkstudy",
		"scripts/loopstudy",
	}
}

// testsNeedC are the packages whose tests alone may not: they look at pictures.
func testsNeedC() []string {
	return []string{"vision", "vision/edge", "vision/pixel", "vision/subject"}
}

// goPackage is what go list says of one package.
type goPackage struct {
	ImportPath   string
	Dir          string
	Standard     bool
	Imports      []string
	TestImports  []string
	XTestImports []string
	Deps         []string
	CgoFiles     []string
}

func TestImportsPointOneWay(t *testing.T) {
	table := mayImport()
	for _, p := range goList(t) {
		name := short(p.ImportPath)
		row, known := table[name]
		if !known {
			t.Errorf("package %s stands in no row of the table: decide what it may import", name)
			continue
		}
		for _, path := range ours(p.Imports) {
			if !slices.Contains(row, short(path)) {
				t.Errorf("%s imports %s; it may import %q only", name, short(path), row)
			}
		}
	}
}

// Between the outer rooms imports run one way, whatever the rows say: scripts, cmd -> calib -> vision -> fit.
func TestRoomsPointOneWay(t *testing.T) {
	height := map[string]int{"fit": 1, "vision": 2, "calib": 3, "cmd": 4, "scripts": 5}
	outer := func(name string) int {
		top, _, _ := strings.Cut(name, "/")
		return height[top]
	}
	for name, row := range mayImport() {
		if name != "" && outer(name) == 0 {
			t.Errorf("%s stands in no outer room", name)
		}
		for _, other := range row {
			if outer(other) == 0 || outer(other) > outer(name) {
				t.Errorf("%s may import %s, which stands above it or in no outer room", name, other)
			}
		}
	}
}

// Tests too must run without a C library, but for those that look at pictures.
func TestOnlyOneRoomTouchesOpenCV(t *testing.T) {
	all := goList(t, "-deps", "-test")
	cgo := map[string]bool{opencv: true}
	for _, p := range all {
		if len(p.CgoFiles) > 0 && !p.Standard {
			cgo[p.ImportPath] = true
		}
	}
	checked := 0
	for _, p := range all {
		path, _, test := strings.Cut(p.ImportPath, " ") // a test build is listed as "path [path.test]"
		test = test || strings.HasSuffix(path, ".test")
		path = strings.TrimSuffix(strings.TrimSuffix(path, ".test"), "_test")
		if p.Standard || !(path == module || strings.HasPrefix(path, module+"/")) {
			continue
		}
		checked++
		if slices.Contains(p.Imports, opencv) && short(path) != "vision/pixel/native" {
			t.Errorf("%s imports OpenCV; only vision/pixel/native may", p.ImportPath)
		}
		may := needsC()
		if test {
			may = append(may, testsNeedC()...)
		}
		for _, d := range p.Deps {
			if cgo[d] && !slices.Contains(may, short(path)) {
				t.Errorf("%s cannot be built without a C library: it reaches %s", p.ImportPath, d)
			}
		}
	}
	if checked < 10 {
		t.Errorf("only %d packages were looked at", checked)
	}
}

// goList runs go list -json over the whole tree.
func goList(t *testing.T, flags ...string) []goPackage {
	t.Helper()
	var stderr bytes.Buffer
	cmd := exec.Command("go", append(append([]string{"list", "-json"}, flags...), "./...")...)
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.String())
	}
	var list []goPackage
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p goPackage
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
	if len(list) == 0 {
		t.Fatal("go list named no package")
	}
	return list
}

// ours picks the packages of this module.
func ours(paths []string) []string {
	var list []string
	for _, p := range paths {
		if p == module || strings.HasPrefix(p, module+"/") {
			list = append(list, p)
		}
	}
	return list
}

// short is a package's path inside the module.
func short(path string) string {
	return strings.TrimPrefix(strings.TrimPrefix(path, module), "/")
}
