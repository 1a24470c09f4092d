package picture

import (
	"context"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"leadmark/vision/frame"
)

// Exif 2.3, table 6: orientation n says where row 0 and column 0 of the stored picture are seen.
// The stored top-left and top-right corners are red and green; where they must be seen follows
// from that table: 1 top left, 2 top right, 3 bottom right, 4 bottom left, 5 to 8 the same with
// rows and columns exchanged (row 0 at left, right, right, left).
func TestPicturesAreShownUpright(t *testing.T) {
	stored := image.NewRGBA(image.Rect(0, 0, 6, 4))
	red, green := color.RGBA{255, 0, 0, 255}, color.RGBA{0, 255, 0, 255}
	for y := range 2 {
		for x := range 2 {
			stored.SetRGBA(x, y, red)
			stored.SetRGBA(5-x, y, green)
		}
	}
	path := filepath.Join(t.TempDir(), "a.png")
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(file, stored); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
	topLeft, topRight, bottomLeft, bottomRight := [2]int{0, 0}, [2]int{1, 0}, [2]int{0, 1}, [2]int{1, 1}
	for orientation, want := range map[int][2][2]int{ // where red and green are seen
		0: {topLeft, topRight}, 1: {topLeft, topRight}, 2: {topRight, topLeft}, 3: {bottomRight, bottomLeft},
		4: {bottomLeft, bottomRight},
		5: {topLeft, bottomLeft}, 6: {topRight, bottomRight}, 7: {bottomRight, topRight}, 8: {bottomLeft, topLeft},
	} {
		for _, side := range []int{6, 3} { // as it is, and halved
			f, refused := frame.Open(path)
			if refused != nil {
				t.Fatal(refused)
			}
			f.Orientation = orientation
			img, err := Load(context.Background(), f, side)
			if err != nil {
				t.Fatal(err)
			}
			b := img.Bounds()
			if wide := b.Dx() > b.Dy(); wide != (orientation < 5) || max(b.Dx(), b.Dy()) != side {
				t.Errorf("orientation %d: %v", orientation, b)
			}
			at := func(c [2]int) color.Color { return img.At(c[0]*(b.Dx()-1), c[1]*(b.Dy()-1)) }
			if at(want[0]) != color.Color(red) || at(want[1]) != color.Color(green) {
				t.Errorf("orientation %d, side %d: red corner is %v, green corner is %v", orientation, side,
					at(want[0]), at(want[1]))
			}
		}
	}
}
