package tripline

import (
	"math"
	"strings"
	"testing"

	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// rulers are front ends along a track to the right, 10 px to the millimetre, whose rulers lie between
// y = 100 and y = 220.
func rulers(fronts ...float64) Path {
	p := Path{Along: ruler.Point{X: 1}, Fronts: fronts, PxPerM: 10_000}
	for _, f := range fronts {
		p.Outlines = append(p.Outlines, [4]ruler.Point{{X: f, Y: 100}, {X: f, Y: 220}, {X: f - 900, Y: 220}, {X: f - 900, Y: 100}})
	}
	return p
}

// By hand: two millimetres are 20 px behind the rearmost front end, 1500; the false trip at 300 does
// not count.
func TestOwnLineCrossesEveryRuler(t *testing.T) {
	p := rulers(1500, 1620, 300, 1580, 1550, 1610, 1590)
	l, err := Choose(nil, nil, func() Path { return p })
	want := ruler.Line{A: ruler.Point{X: 1480, Y: 100}, B: ruler.Point{X: 1480, Y: 220}}
	if err != nil || l.Given || !near(l.Line, want) {
		t.Errorf("%+v, %v", l, err)
	}
	if moved := p.Past(l, 0.003, []float64{9_000, 10_000, 11_000}); !near(moved, ruler.Line{
		A: ruler.Point{X: 1510, Y: 100}, B: ruler.Point{X: 1510, Y: 220}}) {
		t.Errorf("3 mm past it: %+v", moved)
	}
}

// near says that two lines have the same ends, in either order.
func near(a, b ruler.Line) bool {
	d := func(p, q ruler.Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }
	return d(a.A, b.A)+d(a.B, b.B) < 1e-9 || d(a.A, b.B)+d(a.B, b.A) < 1e-9
}

func TestStatedLineAndStill(t *testing.T) {
	none := func() Path { t.Error("the track was asked for"); return Path{} }
	line := ruler.Line{A: ruler.Point{X: 5}, B: ruler.Point{X: 5, Y: 9}}
	if l, err := Choose(&runfile.TripSpec{Line: &line, U: 0.5e-3}, nil, none); err != nil || !l.Given ||
		l.Line != line || l.U != 0.5e-3 {
		t.Errorf("stated: %+v, %v", l, err)
	}
	r := ruler.Reading{Status: ruler.StatusRead, PxPerM: 10_000, Front: &ruler.End{Line: line, U: 4}}
	stated := &runfile.TripSpec{Still: "a.jpg", U: 0.3e-3}
	// By hand: 0.3 mm stated and 4 px, 0.4 mm, of its reading make 0.5 mm; with 1.2 mm of the camera, 1.3.
	if l, err := Choose(stated, &Still{Reading: r, U: 1.2e-3}, none); err != nil || l.Line != line ||
		math.Abs(l.U-1.3e-3) > 1e-12 {
		t.Errorf("still: %+v, %v", l, err)
	}
	dark := ruler.Reading{Status: ruler.StatusRefused, Reason: note.New("dark")}
	if _, err := Choose(stated, &Still{Reading: dark}, none); err == nil ||
		!strings.Contains(err.Error(), "the still a.jpg cannot be read") {
		t.Errorf("a dark still: %v", err)
	}
}
