package main

import (
	"go/ast"
	"go/token"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/testdata"
)

// ceiling is what a room may have: limits in its limits.go, and limits and weights elsewhere.
type ceiling struct{ inside, outside, weights int }

// ceilings are what stands. Where a rule goes, its numbers go from here too; where one comes, it has
// to be worth it, and stand in limits.go with its unit, its reason and what set it.
func ceilings() map[string]ceiling {
	return map[string]ceiling{
		"vision/marks":             {162, 0, 0},
		"vision/marks/tiles":       {33, 0, 0},
		"vision/edge":              {68, 0, 0},
		"vision/scene":             {19, 0, 0},
		"vision/ruler/scale":       {46, 0, 0},
		"vision/ruler/reading":     {52, 0, 0},
		"vision/ruler/coded":       {10, 0, 0},
		"vision/ruler/doubleflash": {47, 3, 7},
		"calib/read":               {14, 0, 0},
		"calib/read/cache":         {4, 0, 0},
		"calib/read/moves":         {9, 0, 0},
		"calib/read/still":         {16, 0, 0},
		"calib/read/tripline":      {0, 1, 1},
		"vision/frame":             {7, 0, 0},
		"vision/pixel":             {20, 3, 1}, // outside: the words that halve a picture, which decide nothing
	}
}

// The numbers that decide do not grow in silence, and those that a package has gathered stay so.
func TestNumbersDoNotGrow(t *testing.T) {
	rooms, err := load(filepath.Join("..", ".."), append(reader(), beside()...))
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rooms {
		var got ceiling
		var bare []string
		for _, n := range r.numbers() {
			switch {
			case n.exact != "":
			case n.inLimits():
				got.inside++
			case n.weight:
				got.weights++
				bare = append(bare, n.String()+" (a weight)")
			default:
				got.outside++
				bare = append(bare, n.String())
			}
		}
		want, is := ceilings()[r.path]
		if !is {
			t.Errorf("%s has no ceiling", r.path)
			continue
		}
		if got.inside > want.inside {
			t.Errorf("%s has %d limits in limits.go, and had %d: which rule went for the new one?", r.path, got.inside, want.inside)
		}
		if got.outside > want.outside || got.weights > want.weights {
			t.Errorf("%s has %d limits and %d weights outside limits.go, and had %d and %d: put them there, with unit, reason and "+
				"what set them\n\t%s", r.path, got.outside, got.weights, want.outside, want.weights, strings.Join(bare, "\n\t"))
		}
		if got != want && got.inside <= want.inside && got.outside <= want.outside && got.weights <= want.weights {
			t.Logf("%s has %+v, fewer than %+v: lower the ceiling", r.path, got, want)
		}
	}
}

// Every limit that is gathered says what it is: a comment behind or before it.
func TestLimitsAreExplained(t *testing.T) {
	rooms, err := load(filepath.Join("..", ".."), append(reader(), beside()...))
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rooms {
		for _, f := range r.files {
			if filepath.Base(r.set.Position(f.Pos()).Filename) != "limits.go" {
				continue
			}
			for _, d := range f.Decls {
				if d, is := d.(*ast.GenDecl); is && d.Tok == token.CONST {
					for _, name := range unexplained(r.set, d) {
						t.Errorf("%s: %s is not explained", r.file(d.Pos()), name)
					}
				}
			}
		}
	}
}

// unexplained are the constants of a declaration that have no comment behind them, and none before
// them or before those right above.
func unexplained(set *token.FileSet, d *ast.GenDecl) (names []string) {
	told, below := d.Doc != nil && len(d.Specs) == 1, 0
	for _, s := range d.Specs {
		v := s.(*ast.ValueSpec)
		line := set.Position(v.Pos()).Line
		told = v.Doc != nil || told && (line == below || len(d.Specs) == 1)
		if below = line + 1; !told && v.Comment == nil {
			names = append(names, v.Names[0].Name)
		}
	}
	return names
}

// sample is a package of the numbers that the rule is about, each named for what it is.
const sample = `package sample

const (
	named  = 5.0
	two    = 2
	derived = named / 2
	own = named * 6
)

const (
	first = iota
	second
)

func f(x float64, n int) float64 {
	if x > 3 && n != 0 && x < 0.5 {
		return 7 * x // a weight
	}
	if x+0.5 > named {
		return x
	}
	for range 11 {
		x = min(x, 13, 255)
	}
	switch n {
	case 17:
		x += 19 // a weight
	}
	list := []float64{23, 29}
	x = max(-31, min(31, list[1<<3]))
	if y := []int{1, 2, 3, 4}[3]; y > n {
		return f(x, 37)
	}
	return 2*x + 1
}
`

// The rule counts what it says it counts.
func TestRule(t *testing.T) {
	dir := tree(t, map[string]string{"sample/a.go": sample})
	rooms, err := load(dir, []string{"sample"})
	if err != nil {
		t.Fatal(err)
	}
	var limits, weights []string
	for _, n := range rooms[0].numbers() {
		if n.weight {
			weights = append(weights, n.what())
		} else {
			limits = append(limits, n.what())
		}
	}
	if got, want := strings.Join(limits, ", "), "named = 5.0, two = 2, own = named * 6, 3, 0.5, 11, 13, 17, 31"; got != want {
		t.Errorf("limits are %s, want %s", got, want)
	}
	if got, want := strings.Join(weights, ", "), "7, 19, 37"; got != want {
		t.Errorf("weights are %s, want %s", got, want)
	}
}

// tree lays a module of this name down.
func tree(t *testing.T, files map[string]string) string {
	t.Helper()
	files["go.mod"] = "module leadmark\n\ngo 1.24\n"
	return testdata.Files(t, files)
}

// logged is a package whose comparisons are logged, and what uses it: the tallies are printed after
// each setting of the numbers.
const (
	logged = `package sample

const least = 3

func Clear(x float64) (n int) {
	if x > least {
		n = min(int(x), 20)
	}
	for range 2 * least {
		n++
	}
	return n
}
`
	user = `package main

import (
	"fmt"

	"leadmark/limitlog"
	"leadmark/sample"
)

func main() {
	fmt.Println(sample.Clear(2), sample.Clear(3.3), sample.Clear(50))
	for _, t := range limitlog.All() {
		fmt.Println(t.True, t.False, t.Near)
	}
	limitlog.Set("F0=yes")
	fmt.Println(sample.Clear(2), sample.Clear(50))
	limitlog.Set("V0=2 F1=no")
	fmt.Println(sample.Clear(5), sample.Clear(50))
}
`
)

// A copy that is instrumented does what the tree does, tells how its comparisons went, and does
// otherwise where it is told to. By hand: 3.3 lies within a quarter of 3, not within 5 %; 3 and 20 do
// not, nor do 2 and 3 or 50 and 20, within a factor of 10.
func TestInstrumented(t *testing.T) {
	dir := tree(t, map[string]string{"sample/a.go": logged, "main.go": user, "limitlog/limitlog.go": limitlogSource,
		"limitlog/sizes.go": sizes(2, 2)})
	rooms, err := load(dir, []string{"sample"})
	if err != nil {
		t.Fatal(err)
	}
	of := instrument(rooms)
	if len(of.sites) != 2 || len(of.numbers) != 2 {
		t.Fatalf("%d sites and %d numbers, want two of each", len(of.sites), len(of.numbers))
	}
	if err := of.write(); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("go", "run", ".")
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	const want = "6 9 26\n" + // six times round, and 0, 3 or 20
		"2 1 [0 1 1 0 1 0]\n" + // 2 and 3 within a factor of 2, 50 and 3 beyond 10
		"1 1 [0 0 0 2 0 0]\n" + // 3 and 20, 50 and 20
		"8 26\n" + // 2 is clear
		"12 62\n" // 5 is none above 6; twelve times round, and 50
	if string(out) != want {
		t.Errorf("printed\n%swant\n%s", out, want)
	}
}
