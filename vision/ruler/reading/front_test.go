package reading

import (
	"math"
	"math/rand/v2"
	"testing"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// millimetres are n marks of a millimetre ruler 10 px apart, their lengths each a little off.
func millimetres(n int, seed uint64) []ruler.Mark {
	r := rand.New(rand.NewPCG(seed, 9))
	var marks []ruler.Mark
	for i := range n {
		length := 1.7 // pitches
		switch {
		case i%10 == 0:
			length = 4
		case i%5 == 0:
			length = 2.6
		}
		length += 0.1 * r.NormFloat64()
		marks = append(marks, ruler.Mark{T: 10 * float64(i), Index: i, Length: 10 * length, Strength: 1})
	}
	return marks
}

// An edge across the ruler is its end where its outline has a corner, be other edges ever so plain.
func TestOnlyACornerIsAnEnd(t *testing.T) {
	row := ruler.Row{Marks: millimetres(60, 1), Pitch: 10, Contrast: 60, Steps: []ruler.Step{
		{T: -90, Contrast: 90, Coherent: 1}, {T: -40, Contrast: 50, Coherent: 1, Outline: ruler.Ends}}}
	l, ok := scale.Fit(row.Marks)
	if !ok {
		t.Fatal("no scale")
	}
	if s, ok := frontOf(row, &l, -1, frontKnown{}); !ok || s.T != -40 {
		t.Errorf("the end is found at %v (%v), want -40", s.T, ok)
	}
	row.Steps[1].Outline = ruler.MayEnd
	if s, ok := frontOf(row, &l, -1, frontKnown{index: -4, period: 10}); !ok || s.T != -40 {
		t.Errorf("where the stated front must be, the end is found at %v (%v), want -40", s.T, ok)
	}
	if s, ok := frontOf(row, &l, -1, frontKnown{}); ok {
		t.Errorf("an end is found at %v, and none is there", s.T)
	}
}

// Nothing in a picture tells the ruler's zero from its other end: a row that begins with one of the
// longest lines, right behind an end, is not counted from there unless that is stated.
func TestNoZeroWithoutAStatedFront(t *testing.T) {
	row := ruler.Row{Dir: ruler.Point{X: 1}, Side: 1, Marks: millimetres(60, 1), Pitch: 10, Contrast: 60, HalfLength: 15,
		Steps: []ruler.Step{{T: -40, Contrast: 50, Coherent: 1, Outline: ruler.Ends,
			Line: ruler.Line{A: ruler.Point{X: -40}, B: ruler.Point{X: -40, Y: 90}}}}}
	s := ruler.Sighting{Width: 900, Height: 300, Rows: []ruler.Row{row}}
	if r := Interpret(s, ruler.Spec{}); r.Status != ruler.StatusRead || r.Absolute || r.Front == nil {
		t.Errorf("nothing stated: %v %v, absolute %v, front %v", r.Status, r.Reason, r.Absolute, r.Front)
	}
	front := -4e-3
	if r := Interpret(s, ruler.Spec{Front: &front, Toward: ruler.Point{X: -1}}); !r.Absolute {
		t.Errorf("front stated: %v %v, absolute %v", r.Status, r.Reason, r.Absolute)
	}
}

// A ruler may go ahead with its far end: where that is stated, and the row is short enough to end
// before the ruler's zero, readings fall away from it if the longest lines say so.
func TestTheFarEndLeads(t *testing.T) {
	row := ruler.Row{Dir: ruler.Point{X: 1}, Side: 1, Marks: millimetres(60, 1), Pitch: 10, Contrast: 60, HalfLength: 15,
		Steps: []ruler.Step{{T: -40, Contrast: 50, Coherent: 1, Outline: ruler.Ends,
			Line: ruler.Line{A: ruler.Point{X: -40}, B: ruler.Point{X: -40, Y: 90}}}}}
	s := ruler.Sighting{Width: 900, Height: 300, Rows: []ruler.Row{row}}
	for _, c := range []struct {
		front, first float64 // mm, the reading of the first line's place
		falling      bool
	}{
		{154, 150, true},   // the first line is a ten, 4 mm from the end
		{156, 160, false},  // a cut tape
		{-4, 0, false},     // a blank margin
		{26, 30, false},    // 26 mm hold no 60 lines
		{200.4, 0, false},  // neither
		{-200.4, 0, false}, // neither
	} {
		front := c.front / 1e3
		r := Interpret(s, ruler.Spec{Front: &front, Toward: ruler.Point{X: -1}})
		if c.first == 0 && c.front != -4 {
			if r.Status != ruler.StatusRefused || r.Reason.Code != "front-disagrees" {
				t.Errorf("front at %v mm: %v %v, want it refused", c.front, r.Status, r.Reason)
			}
			continue
		}
		if at := 1e3 * r.Scale.Reading(0); r.Falling != c.falling || math.Abs(at-c.first) > 0.05 {
			t.Errorf("front at %v mm: falling %v, the first line reads %.2f mm; want %v, %v", c.front, r.Falling, at,
				c.falling, c.first)
		}
	}
}

// The plainest end counts; behind an edge half as plain at which the ruler may end too, as before its
// shadow's outline, none does, unless it is where the stated front must be. Of edges that leave it open, and
// ends of the face alone, those a period further on do not count.
func TestThePlainestEnd(t *testing.T) {
	row := ruler.Row{Marks: millimetres(60, 1), Pitch: 10, Contrast: 60}
	l, ok := scale.Fit(row.Marks)
	if !ok {
		t.Fatal("no scale")
	}
	known := frontKnown{index: -4, period: 10, margin: 4}
	end, further := ruler.Step{T: -40, Contrast: 50, Coherent: 1}, ruler.Step{T: -140, Contrast: 80, Coherent: 1}
	for _, c := range []struct {
		name          string
		near, far     func(s *ruler.Step)
		nothing, told float64 // where the end is found; 0: nowhere
	}{
		{"two ends", isEnd, isEnd, 0, -140},
		{"the near one faint", isFaint, isEnd, -140, -140},
		{"the far one as soft as a shadow", isEnd, func(s *ruler.Step) { isEnd(s); s.WidthPX = 9 }, -40, -140},
		{"half an end", func(s *ruler.Step) { s.Outline = ruler.HalfEnds }, isOpen, 0, -40},
		{"the face ends", isFace, func(*ruler.Step) {}, -40, -40},
		{"the face ends, and so does a further edge", isFace, isEnd, -140, -140},
		{"the face ends further out", func(*ruler.Step) {}, isFace, -140, 0},
		{"the near one open", isOpen, isEnd, 0, -140},
		{"the far one open", isEnd, isOpen, -40, -40},
		{"both open", isOpen, isOpen, 0, -40},
		{"the face goes on past the near one", isLine, func(*ruler.Step) {}, 0, 0},
		{"the face goes on past the near one, not the far", isLine, isEnd, 0, -140},
		{"the near one goes on", func(*ruler.Step) {}, isEnd, -140, -140},
		{"only the far one, open", func(*ruler.Step) {}, isOpen, 0, 0},
	} {
		near, far := end, further
		c.near(&near)
		c.far(&far)
		row.Steps = []ruler.Step{far, near}
		if s, ok := frontOf(row, &l, -1, frontKnown{}); ok != (c.nothing != 0) || ok && s.T != c.nothing {
			t.Errorf("%s, nothing stated: the end is found at %v (%v), want %v", c.name, s.T, ok, c.nothing)
		}
		if s, ok := frontOf(row, &l, -1, known); ok != (c.told != 0) || ok && s.T != c.told {
			t.Errorf("%s, the front stated: the end is found at %v (%v), want %v", c.name, s.T, ok, c.told)
		}
	}
}

func isEnd(s *ruler.Step)   { s.Outline = ruler.Ends }
func isOpen(s *ruler.Step)  { s.Outline = ruler.MayEnd }
func isLine(s *ruler.Step)  { s.Outline = ruler.Untold }
func isFaint(s *ruler.Step) { s.Outline, s.Contrast = ruler.Ends, 20 }
func isFace(s *ruler.Step)  { s.Outline, s.Face = ruler.Ends, true }
