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

// mayImport is the table of the design: data goes one way, frames -> marks -> readings -> observations -> estimate ->
// calibration -> profile -> plan, report. A package may import what stands in its row and nothing else of ours.
// Rows of packages to come stand here already.
func mayImport() map[string][]string {
	return map[string][]string{
		"":                  nil, // this folder: tests of the tree alone
		"unit":              nil,
		"input":             nil,       // what people write, read strictly
		"keep":              {"input"}, // files that must not be lost
		"keep/keeptest":     {"keep", "input"},
		"fit":               nil,
		"frame":             nil,
		"ruler":             {"fit"},
		"ruler/rulertest":   {"ruler"}, // draws rulers
		"ruler/printed":     {"ruler"}, // prints the coded ruler, whose layout and code are ruler's, and slates
		"animal":            nil,       // what a picture shows of the subject
		"animal/animaltest": nil,       // draws animals
		"vision":            {"fit", "frame", "ruler", "animal"},
		"calib":             {"input", "keep", "frame", "ruler", "fit"},
		"rig":               {"input", "keep", "calib", "fit"}, // calibrations over time are compared and charted by fit
		"plan":              {"input", "rig", "fit"},
		"shoot":             {"input", "keep", "plan", "frame", "animal"},                                                  // pictures are looked at through a function it is given
		"report":            {"input", "keep", "animal", "calib", "rig", "plan", "shoot", "unit", "frame", "ruler", "fit"}, // the last three: a calib.Result is made of their values
		"desk":              {"input", "keep", "frame", "ruler", "fit", "calib", "rig", "plan", "shoot", "report"},         // pictures are looked at through functions it is given
		"cmd/leadmark":      {"unit", "input", "keep", "fit", "frame", "animal", "animal/animaltest", "ruler", "ruler/rulertest", "ruler/printed", "vision", "calib", "rig", "plan", "shoot", "report", "desk"},
		"scripts/drawruns":  {"ruler/rulertest"},

		"scripts/codesearch":   nil,
		"scripts/stops":        nil,
		"scripts/benchmark":    {"ruler/rulertest"},
		"scripts/readstudy":    {"frame", "ruler", "ruler/rulertest", "vision", "calib"}, // reads what rulertest draws
		"scripts/planbench":    {"plan", "rig"},
		"scripts/drawshoot":    {"animal/animaltest"},
		"scripts/licences":     nil,
		"scripts/manual":       {"report", "scripts/manual/pages"},
		"scripts/manual/pages": nil,                                                                          // reads the manual
		"scripts/checkstudy":   {"animal", "animal/animaltest", "frame", "shoot", "vision"},                  // looks at what animaltest draws
		"scripts/loopstudy":    {"input", "animal", "animal/animaltest", "frame", "plan", "shoot", "vision"}, // plans, looks at what is drawn, plans again
	}
}

// needsC are the packages that may not build without OpenCV.
func needsC() []string {
	return []string{"vision", "cmd/leadmark", "scripts/readstudy", "scripts/checkstudy", "scripts/loopstudy"}
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

// Tests too must run without a C library, so they may not reach for vision.
func TestOnlyVisionTouchesOpenCV(t *testing.T) {
	all := goList(t, "-deps", "-test")
	cgo := map[string]bool{opencv: true}
	for _, p := range all {
		if len(p.CgoFiles) > 0 && !p.Standard {
			cgo[p.ImportPath] = true
		}
	}
	checked := 0
	for _, p := range all {
		path, _, _ := strings.Cut(p.ImportPath, " ") // a test build is listed as "path [path.test]"
		path = strings.TrimSuffix(strings.TrimSuffix(path, ".test"), "_test")
		if p.Standard || !(path == module || strings.HasPrefix(path, module+"/")) {
			continue
		}
		checked++
		if slices.Contains(p.Imports, opencv) && short(path) != "vision" {
			t.Errorf("%s imports OpenCV; only vision may", p.ImportPath)
		}
		for _, d := range p.Deps {
			if cgo[d] && !slices.Contains(needsC(), short(path)) {
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
