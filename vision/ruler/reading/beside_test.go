package reading

import (
	"slices"
	"testing"

	"leadmark/fit/note"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// scaleAt is a row of n lines so far apart, px, with longer ones in tens and fives, y px down.
func scaleAt(y, pitch float64, n int, side float64) ruler.Row {
	row := ruler.Row{Origin: ruler.Point{Y: y}, Dir: ruler.Point{X: 1}, Side: side, Pitch: pitch, Contrast: 60,
		HalfLength: 0.8 * pitch, Marks: millimetres(n, 3)}
	for i := range row.Marks {
		row.Marks[i].T *= pitch / 10
		row.Marks[i].Length *= pitch / 10
	}
	return row
}

// Rulers of millimetres and of tenths, fiftieths or hundredths of an inch have longer lines in the same
// order; what two scales of one ruler are divided in is told by their graduations' ratio: 1 : 0.254 as well
// as 2.54 : 1 (the inch is 25.4 mm, NIST SP 811, appendix B.6).
func TestTwoScales(t *testing.T) {
	for _, c := range []struct {
		name         string
		other        float64 // px between the second scale's lines; the first's: 10
		stated, want float64 // m
		unsure       bool
	}{
		{"millimetres alone", 0, 0, 1e-3, true},
		{"beside tenths of an inch", 25.4, 0, 1e-3, false},
		{"tenths of an inch beside millimetres", 10 / 2.54, 0, 1e-3, false},
		{"tenths of an inch stated", 25.4, 2.54e-3, 2.54e-3, false},
		{"hundredths beside, millimetres stated", 2.54, 1e-3, 1e-3, false},
	} {
		s := ruler.Sighting{Width: 900, Height: 600, Rows: []ruler.Row{scaleAt(100, 10, 70, 1)}}
		if c.other > 0 {
			s.Rows = append(s.Rows, scaleAt(300, c.other, int(690/c.other), -1))
		}
		r := Interpret(s, ruler.Spec{Graduation: c.stated})
		unsure := slices.ContainsFunc(r.Warnings, func(n note.Note) bool { return n.Code == "graduation-unsure" })
		perM := map[bool]float64{true: c.other, false: 10}[c.name == "tenths of an inch stated"] / c.want
		if c.name == "tenths of an inch beside millimetres" {
			perM = c.other / 1e-3
		}
		if r.Status != ruler.StatusRead || r.Graduation != c.want || unsure != c.unsure || r.PxPerM/perM < 0.999 || r.PxPerM/perM > 1.001 {
			t.Errorf("%s: %v %v, %.4f mm, %.0f px a metre (want %.0f), unsure %v", c.name, r.Status, r.Reason, 1e3*r.Graduation,
				r.PxPerM, perM, unsure)
		}
	}
}

// Shortest lines as long as rulers hardly have them make another division be named as well: sixteenths of
// an inch whose lines would be 9.5 mm long may be thirty-seconds.
func TestOddLines(t *testing.T) {
	half := scale.Match{Pattern: scale.Pattern{Graduation: 25.4e-3 / 32, Classes: []scale.Class{{Period: 2}}}, Size: -1, Evidence: -99}
	c := candidate{match: scale.Match{Pattern: scale.Pattern{Graduation: 25.4e-3 / 16, Classes: []scale.Class{{Period: 2}}},
		Evidence: 90, Size: -3.8}}
	c.matches = []scale.Match{c.match, half}
	if m, unsure := c.rival(ruler.Spec{}); !unsure || m.Graduation != half.Graduation {
		t.Errorf("lines of 9.5 mm: %v, %v", m.Graduation, unsure)
	}
	c.match.Size = -2
	if m, unsure := c.rival(ruler.Spec{}); unsure {
		t.Errorf("lines of 7 mm: unsure, it may be %v", m.Graduation)
	}
}

// A ruler whose millimetres may be tenths of an inch is told by few lines beside them too, too few to be a
// ruler's by themselves, where these lie on it: ten tenths of an inch.
func TestFewLinesBeside(t *testing.T) {
	for _, on := range []bool{true, false} {
		few := scaleAt(300, 25.4, 10, -1)
		few.Origin.X = 220
		one := scaleAt(100, 10, 70, 1)
		if on {
			one.Sides = ruler.Sides{{A: ruler.Point{Y: 92}, B: ruler.Point{X: 700, Y: 92}}, {A: ruler.Point{Y: 330}, B: ruler.Point{X: 700, Y: 330}}}
		}
		s := ruler.Sighting{Width: 900, Height: 600, Rows: []ruler.Row{one, few}}
		r := Interpret(s, ruler.Spec{})
		if unsure := slices.ContainsFunc(r.Warnings, func(n note.Note) bool { return n.Code == "graduation-unsure" }); unsure == on {
			t.Errorf("few lines on the ruler %v: unsure %v (%v)", on, unsure, r.Reason)
		}
	}
}

// Where the longest lines run past the others they are a row of their own: no second scale.
func TestItsOwnLinesAreNoSecondScale(t *testing.T) {
	c := candidate{row: scaleAt(100, 10, 70, 1)}
	c.scale, _ = scale.Fit(c.row.Marks)
	for _, o := range []struct {
		side, pitch float64
		want        bool
	}{{1, 40, false}, {1, 10, false}, {1, 25.4, true}, {-1, 40, true}} {
		if got := c.isBeside(scaleAt(150, o.pitch, int(690/o.pitch), o.side)); got != o.want {
			t.Errorf("lines %g px apart, the ruler to side %g: beside %v, want %v", o.pitch, o.side, got, o.want)
		}
	}
}

// Squared paper and cloth have lines in a ruler's order too, but longer than any ruler's shortest (1.3 to
// 5.4 mm on 17 photographed scales): those that run on are none, and of others that counts against the order.
func TestLinesTooLongForARuler(t *testing.T) {
	for _, c := range []struct {
		lines      int
		half       float64 // pitches
		read, told bool
	}{{70, 1.5, true, true}, {70, 13, false, false}} {
		row := scaleAt(100, 10, c.lines, 1)
		row.HalfLength = c.half * row.Pitch
		s := ruler.Sighting{Width: 900, Height: 600, Rows: []ruler.Row{row}}
		alone, told := Interpret(s, ruler.Spec{}), Interpret(s, ruler.Spec{Graduation: 1e-3})
		if (alone.Status == ruler.StatusRead) != c.read || (told.Status == ruler.StatusRead) != c.told {
			t.Errorf("%d lines %g pitches long: told nothing %v, the graduation %v", c.lines, 2*c.half, alone.Status, told.Status)
		}
	}
	row := scaleAt(100, 10, 30, 1)
	l, _ := scale.Fit(row.Marks)
	if usual, odd := sureness(row, &l, scale.Match{Evidence: 25}), sureness(row, &l, scale.Match{Evidence: 25, Size: -7}); odd != usual-7 {
		t.Errorf("lines of an odd length make it %.1f nats less sure, want 7", usual-odd)
	}
}
