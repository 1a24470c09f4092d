package drawing

import (
	"image"
	"image/color"
	"testing"

	"leadmark/vision/ruler"
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
