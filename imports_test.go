// Package leadmark_test holds the whole tree to its shape: who may import whom, that everything
// public is explained, and that no file knows the machine it was written on.
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

// mayImport is the table of the house: fit knows numbers, vision pictures, calib what a rig's
// calibration is, cmd what people see. A package may import what stands in its row and nothing else
// of ours. Tests may import testdata and scripts/claim too.
func mayImport() map[string][]string {
	return map[string][]string{
		// this folder: tests of the tree alone
		"": nil,

		"fit": {"fit/mixed", "fit/nextshot", "fit/note", "fit/onelag", "fit/outlier", "fit/stat"},
		// what to shoot next
		"fit/design": {"fit", "fit/note"},
		// a rig's calibrations over time
		"fit/drift": {"fit", "fit/note", "fit/stat"},
		// the fit itself: a mixed linear model and the law of its variance
		"fit/mixed": {"fit/stat"},
		// the next shot's interval
		"fit/nextshot": {"fit/mixed", "fit/stat"},
		// what is to be told, as a code and values
		"fit/note": nil,
		// is it one lag?
		"fit/onelag": {"fit/mixed", "fit/note", "fit/outlier", "fit/stat"},
		// values that do not fit the others
		"fit/outlier": {"fit/mixed", "fit/stat"},
		// several pieces of work at a time, for all rooms
		"fit/parallel": nil,
		// order statistics and laws that all share
		"fit/stat": nil,
		"fit/unit": nil,

		"vision": {
			"fit/note", "vision/frame", "vision/marks", "vision/pixel", "vision/ruler",
			"vision/scene",
		},
		// what a picture shows of the subject
		"vision/animal": {"fit/note"},
		"vision/edge":   {"fit/stat", "vision/animal", "vision/pixel", "vision/ruler"},
		"vision/frame":  {"fit/note", "fit/parallel", "fit/unit", "vision/frame/integrity"},
		// a file followed to its end before it is decoded
		"vision/frame/integrity": {"fit/note"},
		"vision/marks": {
			"fit/stat", "vision/edge", "vision/marks/tiles", "vision/pixel", "vision/ruler",
			"vision/ruler/coded", "vision/ruler/doubleflash", "vision/ruler/scale",
		},
		// where marks may stand in even rows
		"vision/marks/tiles": {"vision/pixel", "vision/ruler"},
		// ruler: a place in a picture is its Point
		"vision/pixel": {"fit/stat", "vision/frame", "vision/ruler"},
		// libraries in C, passed in by the commands
		"vision/pixel/native": {"vision/pixel"},
		// the nouns: what is seen of a ruler, what is said of it, what is read
		"vision/ruler": {"fit/note"},
		// the coded ruler: its layout, its cells, and where in them a row stands
		"vision/ruler/coded": {"fit/stat", "vision/ruler"},
		// two pictures of one ruler told apart
		"vision/ruler/doubleflash": {"vision/ruler", "vision/ruler/scale"},
		// prints the coded ruler, whose layout and code are ruler's, and slates
		"vision/ruler/printed": {"vision/ruler/coded"},
		// a sighting -> its reading
		"vision/ruler/reading": {
			"fit/note", "fit/stat", "vision/ruler", "vision/ruler/coded", "vision/ruler/scale",
		},
		// one projective scale, the order of the lengths, the unit
		"vision/ruler/scale": {"fit/stat", "vision/ruler"},
		"vision/scene":       {"vision/pixel", "vision/ruler"},
		"vision/subject": {
			"fit/note", "fit/parallel", "fit/stat", "vision/animal", "vision/edge", "vision/frame",
			"vision/pixel",
		},
		// draws animals
		"vision/synth/animals": nil,
		// what a sensor, its demosaicing, sharpening and compression make of light
		"vision/synth/camera": nil,
		// frames made of photographs of rulers
		"vision/synth/collage": {
			"vision/synth/camera", "vision/synth/crops", "vision/synth/plane", "vision/synth/texture",
		},
		// rulers of the trade as cameras take them, and pictures without one; shares nothing with photo
		"vision/synth/crops": {"vision/synth/camera", "vision/synth/plane", "vision/synth/texture"},
		// a drawn picture as a camera's file
		"vision/synth/jpegfile": nil,
		// runs of a camera that was turned; its camera is its own
		"vision/synth/knock": {"vision/synth/jpegfile"},
		// draws rulers
		"vision/synth/looks": {"vision/ruler/coded", "vision/synth/paint"},
		// colours, noise, layers and their blur: what all drawn pictures share
		"vision/synth/paint": {"vision/ruler"},
		// regular things that are no rulers
		"vision/synth/patterns": {"vision/synth/paint"},
		// photographs of rulers, and their truth
		"vision/synth/photo": {"vision/ruler", "vision/synth/looks", "vision/synth/paint"},
		// flat things before a pinhole camera
		"vision/synth/plane": nil,
		// draws rulers
		"vision/synth/runs": {
			"fit/parallel", "vision/ruler", "vision/synth/jpegfile", "vision/synth/looks",
			"vision/synth/paint", "vision/synth/photo",
		},
		// single pictures by classes of difficulty; truth.json has the form that runs give it
		"vision/synth/studies": {
			"vision/ruler", "vision/synth/jpegfile", "vision/synth/looks", "vision/synth/paint",
			"vision/synth/patterns", "vision/synth/photo", "vision/synth/runs",
		},
		// surfaces with lines, behind rulers and in their place
		"vision/synth/texture": nil,

		// from the folder of a run to its result; pictures are looked at through a function it is given
		"calib": {
			"fit", "fit/design", "fit/note", "vision/frame", "vision/ruler", "calib/input",
			"calib/read", "calib/read/tripline", "calib/runfile", "calib/words",
		},
		// the same while it is shot
		"calib/follow": {
			"fit/note", "fit/parallel", "vision/frame", "calib", "calib/read", "calib/runfile",
		},
		// what people write, read strictly
		"calib/input": nil,
		"calib/plan": {
			"fit/note", "fit/unit", "calib/input", "calib/plan/light", "calib/plan/predict",
			"calib/plan/reach", "calib/plan/subject", "calib/provenance", "calib/record",
			"calib/rig", "calib/words",
		},
		// how the flash heads are to be set
		"calib/plan/light": {"calib/rig"},
		// the law of the next value
		"calib/plan/predict": nil,
		// where the body is at the flash
		"calib/plan/reach": {
			"fit/parallel", "fit/stat", "calib/input", "calib/plan/predict", "calib/plan/subject",
		},
		// the animal, as people describe it
		"calib/plan/subject": {"fit/unit", "calib/input", "calib/plan/predict"},
		// what a document was made by and from
		"calib/provenance": nil,
		// the frames of a run -> advances
		"calib/read": {
			"fit/note", "fit/parallel", "fit/stat", "vision/frame", "vision/ruler",
			"vision/ruler/reading", "calib/read/cache", "calib/read/moves", "calib/read/still",
			"calib/read/tripline", "calib/runfile",
		},
		// what was seen in frames
		"calib/read/cache": {"vision/frame", "vision/ruler", "calib/input"},
		// where the camera was moved between frames
		"calib/read/moves": {"vision/ruler"},
		// which rulers lie still
		"calib/read/still": {"fit/note", "vision/ruler", "calib/runfile"},
		// where the trip line is laid
		"calib/read/tripline": {
			"fit/stat", "vision/ruler", "calib/input", "calib/runfile", "calib/words",
		},
		"calib/record": {
			"fit", "fit/design", "fit/onelag", "fit/unit", "vision/frame", "vision/ruler", "calib",
			"calib/input", "calib/provenance", "calib/runfile", "calib/store", "calib/words",
		},
		// calibrations over time are compared and charted by fit
		"calib/rig": {
			"fit", "fit/drift", "fit/note", "fit/unit", "calib", "calib/input", "calib/provenance",
			"calib/record", "calib/runfile", "calib/store", "calib/words",
		},
		// what people say they did; Start fills in what a fit.Schedule plans
		"calib/runfile": {
			"fit/design", "fit/stat", "fit/unit", "vision/frame", "vision/ruler", "calib/input",
			"calib/store",
		},
		// the documents as JSON Schemas
		"calib/schemas": {"calib/plan", "calib/record", "calib/rig", "calib/shoot"},
		// pictures are looked at through a function it is given
		"calib/shoot": {
			"fit/note", "fit/parallel", "fit/stat", "fit/unit", "vision/animal", "vision/frame",
			"calib/input", "calib/plan", "calib/plan/predict", "calib/plan/reach",
			"calib/plan/subject", "calib/provenance", "calib/record", "calib/store", "calib/words",
		},
		// ratings beside the pictures
		"calib/shoot/sidecar": {"calib/input", "calib/store"},
		// files that must not be lost
		"calib/store":           {"calib/input"},
		"calib/store/storetest": {"calib/input", "calib/store"},
		// the sentences that people read
		"calib/words": {"fit", "fit/design", "fit/note", "fit/unit", "vision/frame", "calib/runfile"},

		"cmd/leadmark": {
			"fit/unit", "vision", "vision/frame", "vision/pixel/native", "vision/ruler",
			"vision/ruler/coded", "vision/ruler/printed", "vision/ruler/reading",
			"vision/synth/animals", "vision/synth/knock", "vision/synth/runs", "calib",
			"calib/follow", "calib/input", "calib/plan/subject", "calib/provenance", "calib/read", "calib/record", "calib/runfile",
			"calib/store", "calib/words", "cmd/leadmark/calibrate", "cmd/leadmark/check",
			"cmd/leadmark/command", "cmd/leadmark/desk", "cmd/leadmark/manual",
			"cmd/leadmark/output", "cmd/leadmark/picture", "cmd/leadmark/planning",
			"cmd/leadmark/report", "cmd/leadmark/report/annotate", "cmd/leadmark/rigs",
			"cmd/leadmark/terminal",
		},
		// a folder of ruler frames to lag and spread
		"cmd/leadmark/calibrate": {
			"fit/design", "fit/parallel", "vision/frame", "vision/ruler", "vision/ruler/reading",
			"calib", "calib/follow", "calib/input", "calib/read", "calib/read/cache",
			"calib/record", "calib/rig", "calib/runfile", "calib/words", "cmd/leadmark/command",
			"cmd/leadmark/manual", "cmd/leadmark/output", "cmd/leadmark/report",
			"cmd/leadmark/report/summary", "cmd/leadmark/terminal",
		},
		// real frames held against the plan
		"cmd/leadmark/check": {
			"vision/animal", "vision/frame", "vision/subject", "calib/input", "calib/plan",
			"calib/shoot", "calib/shoot/sidecar", "calib/store", "calib/words",
			"cmd/leadmark/command", "cmd/leadmark/output", "cmd/leadmark/planning",
			"cmd/leadmark/report", "cmd/leadmark/report/summary", "cmd/leadmark/terminal",
		},
		// what all commands share: the world outside, as they see it
		"cmd/leadmark/command": {
			"vision/frame", "vision/pixel", "vision/ruler", "calib/follow", "calib/input",
			"calib/read", "calib/rig", "calib/runfile", "calib/store", "cmd/leadmark/output",
		},
		// pictures are looked at through functions it is given
		"cmd/leadmark/desk": {
			"vision/frame", "vision/frame/integrity", "vision/ruler", "calib", "calib/follow",
			"calib/input", "calib/plan", "calib/plan/subject", "calib/read", "calib/rig",
			"calib/runfile", "calib/shoot", "calib/store", "calib/words", "cmd/leadmark/desk/guard",
			"cmd/leadmark/desk/live", "cmd/leadmark/desk/places", "cmd/leadmark/desk/planform",
			"cmd/leadmark/desk/reply", "cmd/leadmark/report", "cmd/leadmark/report/annotate",
			"cmd/leadmark/report/figure", "cmd/leadmark/report/phrase",
			"cmd/leadmark/report/planprint", "cmd/leadmark/report/style",
		},
		// whom the desk answers
		"cmd/leadmark/desk/guard": {"cmd/leadmark/desk/reply"},
		// runs that are followed, one state for all pages
		"cmd/leadmark/desk/live": {
			"fit/design", "fit/unit", "vision/frame", "vision/ruler", "calib", "calib/follow",
			"calib/read", "calib/read/cache", "calib/record", "calib/rig", "calib/runfile",
			"calib/store", "calib/words", "cmd/leadmark/desk/places", "cmd/leadmark/desk/reply",
			"cmd/leadmark/report/annotate", "cmd/leadmark/report/phrase",
			"cmd/leadmark/report/summary",
		},
		// which folders and files it shows
		"cmd/leadmark/desk/places": {
			"vision/frame", "calib/input", "calib/runfile", "calib/shoot",
			"cmd/leadmark/desk/reply",
		},
		// what the page of plans asks
		"cmd/leadmark/desk/planform": {
			"calib/input", "calib/plan", "calib/plan/predict", "calib/plan/subject", "calib/rig",
			"cmd/leadmark/desk/places", "cmd/leadmark/desk/reply",
		},
		// how requests are read and answered
		"cmd/leadmark/desk/reply": {"calib/input", "calib/record"},
		// help, man pages, flags in the place of keys
		"cmd/leadmark/manual": {"calib/input", "cmd/leadmark/terminal"},
		// what is written to the disk, and what is said of it
		"cmd/leadmark/output": {"calib/input", "calib/store"},
		// pictures for show
		"cmd/leadmark/picture": {"vision/frame", "calib/words"},
		// where the subject will be: from flags to a plan
		"cmd/leadmark/planning": {
			"vision/frame", "calib/input", "calib/plan", "calib/plan/predict", "calib/plan/subject",
			"calib/store", "calib/words", "cmd/leadmark/command", "cmd/leadmark/manual",
			"cmd/leadmark/report/planprint", "cmd/leadmark/terminal",
		},
		// fit, frame and ruler: a calib.Result is made of their values
		"cmd/leadmark/report": {
			"fit/parallel", "fit/unit", "vision/frame", "vision/ruler", "calib", "calib/input",
			"calib/record", "calib/rig", "calib/shoot", "calib/store", "calib/words",
			"cmd/leadmark/report/annotate", "cmd/leadmark/report/page",
			"cmd/leadmark/report/phrase",
		},
		// a picture of a frame with what was found drawn on it
		"cmd/leadmark/report/annotate": {
			"vision/ruler", "calib", "cmd/leadmark/report/figure/svg", "cmd/leadmark/report/phrase",
			"cmd/leadmark/report/summary",
		},
		// the figures of a run and of a control chart
		"cmd/leadmark/report/figure": {
			"fit", "fit/stat", "vision/ruler", "calib", "calib/rig", "calib/runfile", "calib/words",
			"cmd/leadmark/report/figure/svg", "cmd/leadmark/report/phrase",
			"cmd/leadmark/report/style",
		},
		// strokes, areas and texts as SVG and as PNG
		"cmd/leadmark/report/figure/drawing": {
			"vision/ruler", "cmd/leadmark/report/figure/svg", "cmd/leadmark/report/phrase",
			"cmd/leadmark/report/style",
		},
		// strokes of a figure
		"cmd/leadmark/report/figure/svg": {
			"fit/unit", "cmd/leadmark/report/phrase", "cmd/leadmark/report/style",
		},
		// the pages: what stands on them, and the templates
		"cmd/leadmark/report/page": {
			"fit", "fit/unit", "vision/animal", "vision/ruler", "calib", "calib/plan",
			"calib/provenance", "calib/record", "calib/rig", "calib/runfile", "calib/shoot",
			"calib/words", "cmd/leadmark/report/annotate", "cmd/leadmark/report/figure",
			"cmd/leadmark/report/phrase", "cmd/leadmark/report/style",
			"cmd/leadmark/report/summary",
		},
		// numbers with their units, conditions, sentences
		"cmd/leadmark/report/phrase": {"fit", "fit/unit", "calib", "calib/runfile"},
		// the plan in words, and the set drawn to scale
		"cmd/leadmark/report/planprint": {
			"fit/unit", "calib/plan", "calib/plan/light", "calib/plan/predict", "calib/plan/reach",
			"calib/plan/subject", "calib/rig", "calib/words", "cmd/leadmark/report/figure/drawing",
			"cmd/leadmark/report/figure/svg", "cmd/leadmark/report/phrase",
		},
		// the style sheets and their colours
		"cmd/leadmark/report/style": nil,
		// what a run or a shoot came to, in words
		"cmd/leadmark/report/summary": {
			"vision/ruler", "calib", "calib/input", "calib/runfile", "calib/shoot", "calib/words",
			"cmd/leadmark/report/phrase",
		},
		// rigs' profiles
		"cmd/leadmark/rigs": {
			"fit/unit", "calib/input", "calib/rig", "calib/words", "cmd/leadmark/command",
			"cmd/leadmark/report", "cmd/leadmark/report/figure", "cmd/leadmark/terminal",
		},
		// what is shown on a terminal; report: an answer is made of its lines
		"cmd/leadmark/terminal": {"calib/record", "cmd/leadmark/report/phrase"},

		"scripts/benchmark": {
			"fit/parallel", "vision/synth/collage", "vision/synth/crops", "vision/synth/runs", "calib/plan", "calib/plan/predict", "calib/plan/subject",
			"calib/rig", "scripts/claim",
		},
		"scripts/breaks": {"fit/parallel"},
		// the form of every study: nothing of the program
		"scripts/claim":   nil,
		"scripts/figures": nil,
		// looks at what synth/animals draws
		"scripts/checkstudy": {
			"fit/parallel", "vision/animal", "vision/pixel/native", "vision/subject",
			"vision/synth/animals", "calib/shoot", "scripts/claim", "scripts/drawn",
		},
		"scripts/codesearch": nil,
		// what the studies of drawn pictures share
		"scripts/drawn": {
			"vision", "vision/frame", "vision/pixel/native", "vision/ruler", "vision/synth/animals", "calib/words",
		},
		// builds and runs two other trees
		"scripts/comparecommits": {"fit/parallel"},
		"scripts/drawruns":       {"vision/synth/runs", "vision/synth/studies"},
		"scripts/drawshoot":      {"vision/synth/animals"},
		// files that a program makes, written or held against what it would write
		"scripts/generated": nil,
		// type checks the tree and imports none of it
		"scripts/house":    nil,
		"scripts/licences": {"scripts/generated"},
		// type checks the tree, and instruments a copy of it
		"scripts/limits": {"fit/parallel"},
		// plans, looks at what is drawn, plans again
		"scripts/loopstudy": {
			"vision/animal", "vision/frame", "vision/pixel/native", "vision/subject",
			"vision/synth/animals", "calib/input", "calib/plan", "calib/plan/predict",
			"calib/plan/reach", "calib/plan/subject", "calib/shoot",
			"scripts/claim", "scripts/drawn",
		},
		"scripts/manual": {"cmd/leadmark/report/style", "scripts/manual/pages"},
		// reads the manual
		"scripts/manual/pages": nil,
		// reads what synth/runs draws
		"scripts/readstudy": {
			"fit/parallel", "vision", "vision/frame", "vision/pixel/native",
			"vision/ruler", "vision/ruler/reading", "vision/synth/looks", "vision/synth/photo",
			"vision/synth/runs", "vision/synth/studies", "calib", "calib/input", "calib/read",
			"calib/runfile", "scripts/claim", "scripts/drawn",
		},
		// reads what synth/crops draws
		"scripts/rulerstudy": {
			"fit/note", "fit/parallel", "vision", "vision/pixel/native",
			"vision/ruler", "vision/ruler/reading", "vision/synth/camera",
			"vision/synth/collage", "vision/synth/crops", "vision/synth/plane", "scripts/claim", "scripts/drawn",
		},
		"scripts/schemas": {"calib/schemas", "scripts/generated"},
		// starts the program and stops it
		"scripts/stops": nil,
		// two flashes in one frame
		"scripts/flashstudy": {
			"calib/words", "fit/parallel", "scripts/claim", "vision", "vision/frame", "vision/pixel/native",
			"vision/ruler", "vision/ruler/reading", "vision/synth/looks", "vision/synth/photo",
		},
		// a camera that was turned
		"scripts/turnstudy": {
			"fit/parallel", "vision", "vision/frame", "vision/pixel/native", "vision/ruler",
			"vision/synth/knock", "calib/read", "calib/runfile", "scripts/claim",
		},
	}
}

// needsC are the packages that may not build without OpenCV and libjpeg: who passes them in.
func needsC() []string {
	return []string{
		"vision/pixel/native", "cmd/leadmark", "scripts/readstudy", "scripts/rulerstudy",
		"scripts/checkstudy", "scripts/drawn", "scripts/loopstudy", "scripts/turnstudy",
		"scripts/flashstudy",
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

// Between the outer rooms imports run one way, whatever the rows say: scripts, cmd -> calib ->
// vision -> fit.
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
