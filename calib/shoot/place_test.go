package shoot

import (
	"math"
	"testing"

	"leadmark/calib/plan/reach"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
)

// By hand, at 10 px to the millimetre: a nose 300 px past the line and 40 px nearer to the picture's
// upper edge than the opening's middle is 30 mm past the trip point and 4 mm above the middle. The
// reach holds the body where both ways fit.
func TestWhereAnAnimalIs(t *testing.T) {
	s := Setup{Travel: [2]float64{1, 0}, TripLine: [2][2]float64{{100, 0}, {100, 559}}, Scale: 1e4,
		Exit: &[2]float64{100, 260}}
	a := animal.Animal{Nose: animal.Point{X: 400, Y: 220}, Box: [2]animal.Point{{X: 280, Y: 190}, {X: 400, Y: 250}},
		Outline: []animal.Point{{X: 280, Y: 220}, {X: 340, Y: 190}, {X: 400, Y: 220}, {X: 340, Y: 250}}}
	seen := animal.Sighting{Width: 1000, Height: 560, Found: []animal.Animal{a}}
	box := reach.Box{Along: [2]float64{0.017, 0.031}, Up: [2]float64{0.0005, 0.0075}}
	r := s.judge(frame.Frame{Name: "a.jpg"}, seen, box)
	if r.Status != Found || !(math.Abs(r.Lead-0.030) <= 1e-12) || r.Height == nil ||
		!(math.Abs(*r.Height-0.004) <= 1e-12) {
		t.Fatalf("%+v, height %v", r, r.Height)
	}
	if !r.InReach {
		t.Error("the body from 18 to 30 mm and from 1 to 7 mm up is not in the reach")
	}
	for _, small := range []reach.Box{
		{Along: [2]float64{0.019, 0.031}, Up: box.Up}, {Along: [2]float64{0.017, 0.029}, Up: box.Up},
		{Along: box.Along, Up: [2]float64{0.002, 0.0075}}, {Along: box.Along, Up: [2]float64{0.0005, 0.006}},
		{Along: box.Along, Up: [2]float64{-0.0075, -0.0005}},
	} {
		if s.judge(frame.Frame{Name: "a.jpg"}, seen, small).InReach {
			t.Errorf("it is in %+v", small)
		}
	}
}
