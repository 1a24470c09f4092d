package vision

import (
	"testing"

	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

func TestReduction(t *testing.T) {
	f := frame.Frame{Width: 6000, Height: 4000}
	for pitch, want := range map[float64]int{0: 1, 8: 1, 15.9: 1, 16: 2, 31.9: 2, 32: 4, 80: 4} {
		if got := reduction(f, ruler.Hint{Pitch: pitch}); got != want {
			t.Errorf("pitch %v: 1/%d, want 1/%d", pitch, got, want)
		}
	}
	if got := reduction(frame.Frame{Width: 240, Height: 200}, ruler.Hint{Pitch: 40}); got != 1 {
		t.Errorf("a small picture is reduced to 1/%d", got)
	}
}

func TestRowsNeeded(t *testing.T) {
	f := frame.Frame{StoredWidth: 6000, StoredHeight: 4000, Width: 6000, Height: 4000, Orientation: 1}
	level := ruler.Hint{Near: &ruler.Line{A: ruler.Point{Y: 1500}, B: ruler.Point{X: 1, Y: 1500}}, Within: 300,
		Body: 900}
	if got := rowsNeeded(f, level); got < 2400 || got > 2400+2*wholeBlocks {
		t.Errorf("%d rows for a ruler down to 2400", got)
	}
	slates := level
	slates.Slates = true
	upright := ruler.Hint{Near: &ruler.Line{A: ruler.Point{X: 1500}, B: ruler.Point{X: 1500, Y: 1}}, Within: 300,
		Body: 900}
	turned := f // stored columns are rows of the picture
	turned.Width, turned.Height, turned.Orientation = 4000, 6000, 8
	above := level
	above.Near = &ruler.Line{A: ruler.Point{Y: -5000}, B: ruler.Point{X: 1, Y: -5000}}
	for name, c := range map[string]struct {
		f    frame.Frame
		h    ruler.Hint
		want int
	}{
		"nothing known": {f, ruler.Hint{}, 4000}, "slates": {f, slates, 4000}, "across the rows": {f, upright, 4000},
		"turned": {turned, upright, 2432}, "outside": {f, above, wholeBlocks},
	} {
		if got := rowsNeeded(c.f, c.h); got != c.want {
			t.Errorf("%s: %d rows, want %d", name, got, c.want)
		}
	}
}
