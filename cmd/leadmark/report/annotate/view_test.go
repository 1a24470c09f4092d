package annotate

import (
	"testing"

	"leadmark/vision/ruler"
)

// A clip of 300 x 200 px that shows every fourth pixel of a frame from (400, 300) on, shown 720
// long.
func TestPlacesOnAClip(t *testing.T) {
	v := viewOfClip(ruler.Clip{Left: 399.5, Top: 299.5, Scale: 4, Width: 300, Height: 200}, 720)
	if v.w != 720 || v.h != 480 {
		t.Fatalf("the view is %v x %v", v.w, v.h)
	}
	// The middle of the clip's pixel (150, 100) is the frame's (400 + 150*4 + 1.5, 300 + 100*4 +
	// 1.5).
	if p := v.at(ruler.Point{X: 1001.5, Y: 701.5}); p.Sub(ruler.Point{X: 150.5 * 2.4, Y: 100.5 * 2.4}).Len() > 1e-9 {
		t.Errorf("the place lies at %v of the view", p)
	}
}

func TestLineIsClippedToTheView(t *testing.T) {
	b := box{100, 100, 300, 200}
	s, ok := segment{ruler.Point{X: 0, Y: 150}, ruler.Point{X: 10, Y: 150}}.through(b)
	if !ok || s.A != (ruler.Point{X: 100, Y: 150}) || s.B != (ruler.Point{X: 300, Y: 150}) {
		t.Errorf("clipped to %v, %v", s, ok)
	}
	if _, ok := (segment{ruler.Point{X: 0, Y: 50}, ruler.Point{X: 10, Y: 50}}).through(b); ok {
		t.Error("a line that passes the view by is drawn")
	}
}
