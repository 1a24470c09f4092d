package still

import (
	"math"
	"testing"

	"leadmark/vision/ruler"
)

// seenRow is a row of n marks 30 px apart along an axis turned by so much about its middle, moved
// by so much along it.
func seenRow(n int, turn, moved float64) ruler.Row {
	r := ruler.Row{Origin: ruler.Point{X: 600, Y: 900}, Dir: ruler.Point{X: math.Sin(turn), Y: math.Cos(turn)}, Pitch: 30, HalfLength: 42}
	for i := range n {
		r.Marks = append(r.Marks, ruler.Mark{T: 30*(float64(i)-float64(n-1)/2) + moved, Index: i})
	}
	return r
}

// The axis of a short row is known less well than that of a long one.
func TestShortStillRowIsKnownThoughItsAxisTurns(t *testing.T) {
	still := seenRow(18, 0.04, 0)
	if !sameRow(still, seenRow(18, 0.069, 0)) {
		t.Error("a row of 18 marks seen turned by 0.03 rad is taken for another")
	}
	if sameRow(still, seenRow(18, 0.04, 9)) {
		t.Error("a row moved by 9 px along itself is taken for the same")
	}
	if sameRow(seenRow(60, 0.04, 0), seenRow(60, 0.09, 0)) {
		t.Error("a long row turned by 0.05 rad is taken for the same")
	}
}

// A still ruler of a long run is found by a part of the frames, and a moving one is left.
func TestStillRulerInALongRun(t *testing.T) {
	all := make([]ruler.Sighting, 1000)
	for i := range all {
		all[i].Rows = []ruler.Row{seenRow(18, 0.04, 0), seenRow(40, 0.3, 7.3*float64(i%29)+0.9*float64(i%13))}
	}
	f := Find(Run{Frames: make([]Frame, len(all)), Sighting: func(k int) ruler.Sighting { return all[k] }})
	for i, s := range all {
		if s = Without(s, f.Rows); len(s.Rows) != 1 || len(s.Rows[0].Marks) != 40 {
			t.Fatalf("frame %d: %d rows left", i, len(s.Rows))
		}
	}
}
