package vision

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"leadmark/fit/stat"
	"leadmark/testdata"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
)

// handRead is one graduation of a photograph, read by hand.
type handRead struct{ X, Y, MM float64 }

func (g handRead) at() ruler.Point { return ruler.Point{X: g.X, Y: g.Y} }

// listedScale is one scale of a ruler.
type listedScale struct {
	Spacing     float64 `json:"graduation_spacing_mm"`
	ZeroVisible bool    `json:"zero_visible"`
	Graduations []handRead
}

// photograph is what is true of a photograph of a real ruler.
type photograph struct {
	folder        string
	File          string
	Width, Height int
	Expected      string // "annotate", "refuse" or "right_or_refuse"
	EndsListed    *bool  `json:"ends_annotated"`
	Ends          []struct {
		X, Y float64
		Tol  float64 `json:"tol_px"`
	} `json:"ruler_ends"`
	Scales []listedScale
}

// photographs are all of both folders; the test is skipped where one is missing.
func photographs(t *testing.T) []photograph {
	t.Helper()
	var all []photograph
	for _, name := range []string{"rulers", "rulers-more"} {
		folder := testdata.Photographs(t, name)
		data, err := os.ReadFile(filepath.Join(folder, "truth.json"))
		if err != nil {
			t.Fatal(err)
		}
		var truth struct{ Images []photograph }
		if err := json.Unmarshal(data, &truth); err != nil {
			t.Fatal(err)
		}
		for _, p := range truth.Images {
			p.folder = folder
			all = append(all, p)
		}
	}
	return all
}

// allEnds says whether every end in the picture is listed: the truth says so, or lists some, or
// the ruler runs out of the picture on both sides.
func (p photograph) allEnds() bool {
	if p.EndsListed != nil {
		return *p.EndsListed
	}
	if len(p.Ends) > 0 || len(p.Scales) == 0 {
		return len(p.Ends) > 0
	}
	g := p.Scales[0].Graduations
	border := func(a, b handRead) bool { // the next graduation would lie outside
		next := a.at().Add(a.at().Sub(b.at()))
		return next.X < 0 || next.Y < 0 || next.X > float64(p.Width) || next.Y > float64(p.Height)
	}
	return border(g[0], g[1]) && border(g[len(g)-1], g[len(g)-2])
}

// seesEnd says whether an end of the truth lies on an edge that was found, within the truth's own
// tolerance and what counts as wrong: many are cut a little askew.
func (p photograph) seesEnd(e ruler.End, pxPerMM float64) bool {
	const wrong = 0.3 // mm
	for _, end := range p.Ends {
		if math.Abs(e.Line.Distance(ruler.Point{X: end.X, Y: end.Y})) <= end.Tol+wrong*pxPerMM {
			return true
		}
	}
	return false
}

// Graduations count as found within the larger of placedPX and placedMM; scales are alike within
// alike, which perspective across a ruler does not reach and no two trade graduations come near.
const (
	placedPX = 2.0
	placedMM = 0.08
	alike    = 0.05
)

// match is how a reading compares with one listed scale.
type match struct {
	ratio    float64 // px/mm read over px/mm listed, median
	share    float64 // of the listed graduations that were found
	absolute bool    // those have the readings of the truth
}

// against compares graduations up to a constant, and up to their sense.
func (s listedScale) against(r ruler.Reading) match {
	best, m := 0, match{}
	for _, sign := range []float64{1, -1} {
		votes := map[int]int{}
		for _, g := range s.Graduations {
			tol := max(placedPX, placedMM*r.PxPerM/1000)
			for have := range r.Graduations.All() {
				along := ruler.Line{A: g.at(), B: g.at().Add(r.Scale.MarkDir(r.Scale.Along(g.at())))}
				if math.Abs(along.Distance(have.At)) <= tol {
					votes[int(math.Round((have.Reading*1000-sign*g.MM)*10))]++
				}
			}
		}
		for k, n := range votes {
			if n > best {
				best, m.absolute = n, sign == 1 && k == 0
			}
		}
	}
	m.share = float64(best) / float64(len(s.Graduations))
	var ratios []float64
	for i := 1; i < len(s.Graduations); i++ {
		a, b := s.Graduations[i-1], s.Graduations[i]
		apart := math.Abs(r.Scale.Reading(r.Scale.Along(b.at()))-r.Scale.Reading(r.Scale.Along(a.at()))) * 1000
		ratios = append(ratios, math.Abs(b.MM-a.MM)/apart)
	}
	m.ratio = stat.Median(ratios)
	return m
}

// wrongs says what of a reading is false.
func (p photograph) wrongs(r ruler.Reading) (all []string, best match) {
	say := func(format string, v ...any) { all = append(all, fmt.Sprintf(format, v...)) }
	if r.Status != ruler.StatusRead {
		return nil, best
	}
	if len(p.Scales) == 0 {
		say("read, and shows no ruler's scale")
		return all, best
	}
	for _, s := range p.Scales {
		if m := s.against(r); m.share >= best.share {
			best = m
		}
	}
	if math.Abs(best.ratio-1) > alike {
		say("scale off by a factor of %.3f", best.ratio)
	}
	if r.Absolute && !best.absolute {
		say("counts from a zero that is none")
	}
	if r.Front != nil && p.allEnds() && !p.seesEnd(*r.Front, r.PxPerM/1000) {
		say("front end at %.0f, %.0f where none is", r.Front.At.X, r.Front.At.Y)
	}
	return all, best
}

// TestReadsRealRulers judges the reading of photographs of real rulers, taken by others, by
// graduations and ends read by hand: nothing that is read may be wrong, however little is
// stated, and at most two of those that show a readable scale may be missed.
func TestReadsRealRulers(t *testing.T) {
	const mostMissed = 2
	missed := 0
	for _, p := range photographs(t) {
		s := p.look(t)
		for _, said := range p.specs(s) {
			r := reading.Interpret(s, said.spec)
			wrong, m := p.wrongs(r)
			outcome := p.outcome(r, wrong)
			if outcome == "missed" && said.name == "nothing stated" {
				missed++
			}
			front := "no front"
			if r.Front != nil {
				front = fmt.Sprintf("front %.0f,%.0f", r.Front.At.X, r.Front.At.Y)
			}
			t.Logf("%-24s %-16s %-7s %5.1f %%, x %.3f, %.4g mm, absolute %v, %s %s", p.File, said.name, outcome, 100*m.share,
				m.ratio, r.Graduation*1000, r.Absolute, front, r.Reason)
			for _, w := range wrong {
				t.Errorf("%s, %s: %s", p.File, said.name, w)
			}
		}
	}
	if missed > mostMissed {
		t.Errorf("%d readable photographs were missed, %d may be", missed, mostMissed)
	}
}

func (p photograph) outcome(r ruler.Reading, wrong []string) string {
	switch {
	case len(wrong) > 0:
		return "WRONG"
	case r.Status == ruler.StatusRead:
		return "right"
	case p.Expected == "annotate":
		return "missed"
	}
	return "refused"
}

// stated is something said of the ruler.
type stated struct {
	name string
	spec ruler.Spec
}

// specs are what a picture is read with: nothing said of it, its graduation, and which way its
// front end points, one way and the other.
func (p photograph) specs(s ruler.Sighting) []stated {
	out := []stated{{"nothing stated", ruler.Spec{}}}
	if len(p.Scales) == 0 {
		return out
	}
	g := p.Scales[0].Spacing / 1000
	out = append(out, stated{"graduation", ruler.Spec{Graduation: g}})
	ends := p.Scales[0].Graduations
	way := ends[len(ends)-1].at().Sub(ends[0].at()).Unit()
	return append(out, stated{"rising", ruler.Spec{Toward: way}}, stated{"falling", ruler.Spec{Toward: way.Mul(-1)}})
}

func (p photograph) look(t *testing.T) ruler.Sighting {
	t.Helper()
	f, refused := frame.Open(filepath.Join(p.folder, p.File))
	if refused != nil {
		t.Fatalf("%s: %s", p.File, refused)
	}
	s, err := NewLooker(native.Library{}).Look(context.Background(), f, ruler.Hint{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}
