package report

import (
	"image"
	"image/color"
	"testing"

	"leadmark/ruler"
)

// A stroke of whole pixels covers them wholly and nothing beside them, whole picture or part.
func TestStrokeCoversWhatItShould(t *testing.T) {
	m := image.NewRGBA(image.Rect(0, 0, 20, 10))
	red := color.RGBA{0xFF, 0, 0, 0xFF}
	stroke(m, red, 2, ruler.Point{X: -5, Y: 4}, ruler.Point{X: 12, Y: 4})
	for y := range 10 {
		for x := range 20 {
			want := color.RGBA{}
			if x < 12 && (y == 3 || y == 4) {
				want = red
			}
			if got := m.RGBAAt(x, y); got != want {
				t.Fatalf("pixel %d,%d is %v, want %v", x, y, got, want)
			}
		}
	}
}

// Ten millimetres of a ruler at 8 px/mm, the top-left pixel of the frame centred on (0, 0).
func TestPlacesSurviveTheCut(t *testing.T) {
	src := image.NewRGBA(image.Rect(0, 0, 300, 200)) // a frame of 1200 x 800, reduced to a quarter
	src.SetRGBA(150, 100, color.RGBA{0xFF, 0xFF, 0xFF, 0xFF})
	v := cut(src, 1200, box{400, 300, 800, 500}, 720)
	p := v.at(ruler.Point{X: 150*4 + 1.5, Y: 100*4 + 1.5}) // middle of that reduced pixel
	if got := v.img.RGBAAt(int(p.X), int(p.Y)); got.R != 0xFF {
		t.Errorf("the white pixel is not at %v of the cut", p)
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
