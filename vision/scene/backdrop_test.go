package scene

import (
	"testing"

	"leadmark/vision/ruler"
)

// A row of the longer marks alone, five times as far apart, hides no more of the scene than the ruler
// that it stands on, whose long edges were found.
func TestARowOfLongMarksHidesNoMore(t *testing.T) {
	row := func(pitch, y float64) ruler.Row {
		r := ruler.Row{Origin: ruler.Point{X: 100, Y: y}, Dir: ruler.Point{X: 1}, Side: 1, Pitch: pitch}
		for k := range 31 {
			r.Marks = append(r.Marks, ruler.Mark{T: 10 * float64(k)})
		}
		for k, at := range []float64{480, 700} {
			r.Sides[k] = &ruler.Line{A: ruler.Point{Y: at}, B: ruler.Point{X: 500, Y: at}}
		}
		return r
	}
	both := bandsOf([]ruler.Row{row(10, 500), row(50, 530)})
	for y, want := range map[float64]bool{300: false, 340: false, 375: true, 480: true, 600: true, 810: true, 830: false,
		1200: false} {
		if got := hidden(ruler.Point{X: 250, Y: y}, both); got != want {
			t.Errorf("y = %v: hidden %v", y, got)
		}
	}
	if hidden(ruler.Point{X: 700, Y: 600}, both) {
		t.Error("what lies far past the last mark is hidden")
	}
}
