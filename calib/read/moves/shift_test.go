package moves

import (
	"math"
	"testing"

	"leadmark/vision/ruler"
)

// A camera turned aside by 5 mrad about a point 60 mm behind its lens: the lens goes 0.3 mm aside. At
// 10 px/mm on the track that is 3 px, of which the backdrop, a seventh or so farther, shows 0.45 less.
func TestUncertaintyOfWhatTheBackdropCannotKnow(t *testing.T) {
	half := 1000.0
	d := ruler.Shift{Half: half, Move: ruler.Point{X: 5e-3 * focal * half}}
	at, right, down := ruler.Point{X: 300}, ruler.Point{X: 1}, ruler.Point{Y: 1}
	if u := U(d, at, right, 10e3); math.Abs(u-0.45) > 1e-9 {
		t.Errorf("along the move %v px", u)
	}
	if u := U(d, at, down, 10e3); u != 0 {
		t.Errorf("across the move %v px", u)
	}
	rolled := ruler.Shift{Half: half, Turned: 5e-3 * half}
	rolled.Cov[0][0] = 0.04
	if u := U(rolled, at, right, 10e3); math.Abs(u-math.Hypot(0.45, 0.2)) > 1e-9 {
		t.Errorf("rolled, and its move known to 0.2 px: %v px", u)
	}
}

// A turn about the middle of the picture moves nothing there, and is no steady camera.
func TestATurnAboutTheMiddleIsSeen(t *testing.T) {
	d := ruler.Shift{Half: 1000, Turned: 2}
	for i := range d.Cov {
		d.Cov[i][i] = 0.1 * 0.1
	}
	if Steady(d) {
		t.Error("2 px at the rim, known to 0.1 px, are taken for none")
	}
	if d.Turned = 0.4; !Steady(d) {
		t.Error("0.2 px half way out are taken for a move")
	}
	if d.Grown = 20; !Zoomed(d) {
		t.Error("20 px of growth are taken for a turn")
	}
	if d.Grown, d.Move.X = 4, 200; Zoomed(d) {
		t.Error("4 px of growth of a camera turned by 45 mrad are taken for zooming")
	}
}
