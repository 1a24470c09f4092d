package read

import (
	"math"
	"testing"

	"leadmark/calib/read/tripline"
	"leadmark/calib/runfile"
	"leadmark/vision/ruler"
)

// Of a coded ruler the frames that show its front end tell where it is in those that do not: 0.2 mm
// here, the median of 0.1, 0.2 and 0.4 mm, whose median deviation is 0.1 mm.
func TestACodedRulersFrontIsTheMedian(t *testing.T) {
	var all []ruler.Reading
	for _, mm := range []float64{0.4, 0.1, 0.2} {
		all = append(all, ruler.Reading{Status: ruler.StatusRead, Coded: true, Front: &ruler.End{Reading: mm * 1e-3}})
	}
	hidden := ruler.Reading{Status: ruler.StatusRead, Coded: true}
	f := sharedFront(runfile.RulerSpec{}, append(all, hidden, ruler.Reading{Coded: true, Front: &ruler.End{Reading: 9}}))
	at, u, ok := f.reading(hidden)
	if want := 1.2533 * 1.4826 * 0.1e-3 / math.Sqrt(3); !ok || at != 0.2e-3 || math.Abs(u-want) > 1e-12 {
		t.Errorf("%v, %v, %v", at, u, ok)
	}
	for i, r := range []ruler.Reading{all[0], hidden, {Status: ruler.StatusRead}} {
		if _, ok := f.place(r); ok != (i < 2) {
			t.Errorf("reading %d: the front end has a place: %v", i, ok)
		}
	}
	if _, _, ok := sharedFront(runfile.RulerSpec{}, []ruler.Reading{hidden}).reading(hidden); ok {
		t.Error("no frame shows the front end, and it is known")
	}
}

// An advance is the distance of the trip line from the front end, whichever way readings go from there:
// 150 mm from the end of 300 mm that leads.
func TestAnAdvanceOfAFarEnd(t *testing.T) {
	stated := 0.3
	axis := ruler.Line{B: ruler.Point{X: 1}}
	r := ruler.Reading{Status: ruler.StatusRead, Falling: true, PxPerM: 1e4, Front: &ruler.End{Reading: stated},
		Scale: ruler.Scale{Dir: ruler.Point{X: 1}, Long: axis, T0: 3000, T1: -1e4, Side: 1}}
	spec := runfile.RulerSpec{Front: &stated}
	g := Readings{run: runfile.Run{Ruler: spec}, front: front{spec: spec}, list: []ruler.Reading{r}}
	var shot Shot
	line := tripline.Line{Line: ruler.Line{A: ruler.Point{X: 1500}, B: ruler.Point{X: 1500, Y: 1}}}
	if why := g.advance(&shot, 0, line); why.Code != "" || math.Abs(shot.Advance-0.15) > 1e-9 {
		t.Errorf("%v m (%v), want 0.15", shot.Advance, why)
	}
}
