package fit

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"regexp"
	"strconv"
	"testing"

	"leadmark/scripts/claim"
)

var (
	longRuns  = flag.Int("coverage.runs", 0, "simulate this many runs a cell over the whole grid (scripts/coverage)")
	longSeed  = flag.Uint64("coverage.seed", 1, "seed of the simulation")
	longCells = flag.String("coverage.cells", "all", "all, small for a tenth of the grid, or how many of it")
	longOnly  = flag.String("coverage.only", "", "regular expression: only the cells whose line's start it "+
		"matches, such as 'drop +2 +2 .* true'")
	longFile = flag.String("coverage.file", "", "file that keeps each cell's outcome; cells found there are "+
		"not run again")
	longWays = flag.Bool("coverage.compare", false, "compare the methods tried, not only the chosen one")
)

// shares are the quantities whose intervals a cell holds, each with the limits of its share.
func (o outcome) shares(c cell) []share {
	h := o.Held[wayChosen]
	list := []share{{"lag", h.Lag, 0.935, 0.965}, {"trip", h.Trip, 0.935, 0.965}, {"next", h.Next, 0.935, 0.965}}
	if c.method == "sweep" {
		list = append(list, share{"speed", h.Speed, 0.935, 0.965})
	}
	if c.ratio > 0 {
		return append(list, share{"spread", h.Spread, 0.925, 0.975})
	}
	return append(list, share{"spread of nil", h.Spread, 0.925, 1})
}

type share struct {
	name        string
	held        int
	least, most float64
}

// TestCoverage is the short form: fixed seeds and a few cells. All together are held to the limits
// of the grid, each to limits 2 points wider, which 300 runs can tell: chance would break one of
// some forty narrower ones.
func TestCoverage(t *testing.T) {
	const runs = 300
	var s claim.Study
	var together outcome
	swept := 0
	for _, c := range []cell{
		{"drop", 2, 3, 1, false, false}, {"drop", 3, 3, 3, true, false}, {"drop", 4, 6, 0.5, true, false},
		{"drop", 4, 6, 10, false, false},
		{"push", 2, 3, 3, false, false}, {"push", 4, 4, 1, true, false}, {"sweep", 3, 4, 3, true, false},
		{"sweep", 5, 5, 1, false, false},
	} {
		o := runCell(c, runs, 11, false)
		together.add(o)
		if c.method == "sweep" {
			swept += o.Runs
		}
		for _, q := range o.shares(c) {
			s.Hold(c.label()+" "+q.name, claim.Share(q.held, o.Runs), claim.Between(q.least-0.02, q.most+0.02).Within(0.04))
		}
		s.Hold(c.label()+" error over the best one", o.errorRatio(), claim.AtMost(1.03))
		if o.Shots >= 16*o.Runs {
			s.Hold(c.label()+" width over the best one", o.widthRatio(), claim.Between(1, mostWidth))
		}
		s.Hold(c.label()+" good shots called odd", claim.Share(o.Flagged, o.Shots), claim.AtMost(0.01))
	}
	h := together.Held[wayChosen]
	s.Hold("all lags", claim.Share(h.Lag, together.Runs), claim.Between(0.935, 0.965))
	s.Hold("all trip places", claim.Share(h.Trip, together.Runs), claim.Between(0.935, 0.965))
	s.Hold("all next shots", claim.Share(h.Next, together.Runs), claim.Between(0.935, 0.965))
	s.Hold("all spreads", claim.Share(h.Spread, together.Runs), claim.Between(0.925, 0.975))
	s.Hold("all speeds", claim.Share(h.Speed, swept), claim.Between(0.925, 0.975))
	s.LeftOut("errors and widths of lags withheld", together.Withheld, together.Runs, mostWithheld)
	s.Held(t)
}

// Limits on what the lag is, beside its share of intervals that hold it.
const (
	mostError    = 1.10  // its error over that of one who knows the truth
	mostWidth    = 1.25  // its interval over theirs, of 16 shots or more
	mostWithheld = 0.001 // runs of which it is withheld
)

// TestCoverageLong is the whole grid; scripts/coverage runs it. It prints a line a cell, and what
// the grid as a whole claims.
func TestCoverageLong(t *testing.T) {
	if *longRuns == 0 {
		t.Skip("the long form is run by scripts/coverage")
	}
	build, err := buildOf(".", simulation())
	if err != nil {
		t.Fatal(err)
	}
	store, err := openStored(*longFile, build)
	if err != nil {
		t.Fatal(err)
	}
	defer store.close()
	fmt.Printf("build %s\n", build)
	if store.void > 0 {
		fmt.Printf("%d outcomes in the file are of another build, and void\n", store.void)
	}
	fmt.Printf("%-6s %6s %5s %6s %-6s %-6s %-9s %6s %6s %6s %6s %6s %7s %7s %7s %8s\n", "method", "levels",
		"shots", "ratio", "common", "given", "way", "lag", "trip", "next", "spread", "speed", "error", "width",
		"flagged", "withheld")
	whole := gridded{extremes: map[string]extreme{}}
	only := regexp.MustCompile(*longOnly)
	for _, c := range grid(t, *longCells) {
		if !only.MatchString(c.label()) {
			continue
		}
		o, known := store.find(c, *longRuns, *longSeed)
		if !known {
			o = runCell(c, *longRuns, *longSeed, *longWays)
			if err := store.add(c, *longRuns, *longSeed, o); err != nil {
				t.Fatal(err)
			}
		}
		c.print(o)
		whole.add(c, o)
	}
	s := whole.claims()
	if err := s.Print(os.Stdout); err != nil {
		t.Fatal(err)
	}
	if s.Status() != 0 {
		t.Fail()
	}
}

// gridded is what the cells of a grid came to.
type gridded struct {
	cells, outside  int
	runs, withheld  int
	extremes        map[string]extreme // of the shares of each quantity
	error           claim.Figure       // the largest
	narrow, wide    claim.Figure       // of the widths of 16 shots or more
	flagged         claim.Figure       // the largest share
	extremesInOrder []string
}

// extreme are the cells that hold a quantity least and most often.
type extreme struct{ least, most claim.Figure }

// add counts a cell; one is outside where a share or its error is beyond the limits.
func (g *gridded) add(c cell, o outcome) {
	beyond := false
	for _, q := range o.shares(c) {
		f := claim.Share(q.held, o.Runs)
		e, known := g.extremes[q.name]
		if !known {
			e = extreme{f, f}
			g.extremesInOrder = append(g.extremesInOrder, q.name)
		}
		if f.Value < e.least.Value {
			e.least = f
		}
		if f.Value > e.most.Value {
			e.most = f
		}
		g.extremes[q.name] = e
		beyond = beyond || f.Value < q.least || f.Value > q.most
	}
	larger := func(to *claim.Figure, f claim.Figure) {
		if to.N == 0 || !(f.Value <= to.Value) { // not a number is the largest
			*to = f
		}
	}
	larger(&g.error, o.errorRatio())
	larger(&g.flagged, claim.Share(o.Flagged, o.Shots))
	if w := o.widthRatio(); o.Shots >= 16*o.Runs {
		larger(&g.wide, w)
		if g.narrow.N == 0 || !(w.Value >= g.narrow.Value) {
			g.narrow = w
		}
	}
	if g.cells++; beyond || !(o.errorRatio().Value <= 1.05) {
		g.outside++
	}
	g.runs, g.withheld = g.runs+o.Runs, g.withheld+o.Withheld
}

// claims are those that docs/method.md makes of the grid.
func (g *gridded) claims() *claim.Study {
	s := &claim.Study{}
	for _, name := range g.extremesInOrder {
		e, slack := g.extremes[name], 0.01 // for chance in so many cells
		least, most := 0.935-slack, 0.965+slack
		if name == "spread" {
			least, most = 0.925-slack, 0.975+slack
		}
		if name == "spread of nil" {
			least, most = 0.925, 1
		}
		s.Hold(name+", the cell that holds it least often", e.least, claim.AtLeast(least))
		s.Hold(name+", the cell that holds it most often", e.most, claim.AtMost(most))
	}
	s.Hold("error over the best one, the largest", g.error, claim.AtMost(mostError+0.05))
	s.Hold("width over the best one, 16 shots or more, the least", g.narrow, claim.AtLeast(0.98))
	s.Hold("width over the best one, 16 shots or more, the largest", g.wide, claim.AtMost(mostWidth))
	s.Hold("good shots called odd, the cell with most", g.flagged, claim.AtMost(0.01))
	s.Hold("cells with a share or an error outside the limits", claim.Share(g.outside, g.cells), claim.AtMost(0.1))
	s.LeftOut("errors and widths of lags withheld", g.withheld, g.runs, mostWithheld)
	return s
}

// grid lists the cells in an order drawn once, so that a grid broken off is a fair part of the whole.
func grid(t *testing.T, which string) []cell {
	t.Helper()
	levels, shots, ratios := []int{2, 3, 4, 6}, []int{2, 3, 4, 6, 12}, []float64{0, 0.3, 1, 3, 10}
	if which == "small" {
		levels, shots, ratios = []int{2, 4}, []int{2, 4, 12}, []float64{0, 0.5, 1, 3, 10}
	}
	var cells []cell
	for _, common := range []bool{false, true} {
		for _, k := range levels {
			for _, n := range shots {
				for _, ratio := range ratios {
					cells = append(cells, cell{"drop", k, n, ratio, common, false},
						cell{"push", k, n, ratio, common, false},
						cell{"sweep", k, n, ratio, common, true}, cell{"drop", k, n, ratio, common, true},
						cell{"push", k, n, ratio, common, true})
				}
			}
		}
	}
	rand.New(rand.NewPCG(1, 1)).Shuffle(len(cells), func(i, j int) { cells[i], cells[j] = cells[j], cells[i] })
	if which == "all" || which == "small" {
		return cells
	}
	n, err := strconv.Atoi(which)
	if err != nil || n < 1 || n > len(cells) {
		t.Fatalf("-coverage.cells is all, small or a number of cells up to %d, not %q", len(cells), which)
	}
	return cells[:n]
}

// label is the start of a cell's line.
func (c cell) label() string {
	return fmt.Sprintf("%-6s %6d %5d %6.1f %-6v %-6v", c.method, c.levels, c.shots, c.ratio, c.common, c.given)
}

func (c cell) print(o outcome) {
	last := 1
	if *longWays {
		last = ways
	}
	runs := float64(o.Runs) / 100
	for w := 0; w < last; w++ {
		h := o.Held[w]
		fmt.Printf("%s %-9s %6.2f %6.2f %6.2f %6.2f %6.2f %7.3f %7.3f %7.3f %8d\n", c.label(), wayName[w],
			float64(h.Lag)/runs, float64(h.Trip)/runs, float64(h.Next)/runs, float64(h.Spread)/runs,
			float64(h.Speed)/runs, o.errorRatio().Value, o.widthRatio().Value,
			100*float64(o.Flagged)/float64(o.Shots), o.Withheld)
	}
}
