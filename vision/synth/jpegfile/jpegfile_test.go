package jpegfile

import (
	"image"
	"image/color"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/rwcarlsen/goexif/exif"
)

func TestExifReadsBack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.jpg")
	taken := time.Date(2026, 5, 3, 10, 21, 7, 350e6, time.FixedZone("", 2*3600))
	want := Exif{Make: "Greenhouse", Model: "Test camera", Taken: taken, Exposure: 0.005, FNumber: 11, ISO: 200,
		Focal: 0.06, Fired: true, Orientation: 6}
	if err := Write(path, image.NewRGBA(image.Rect(0, 0, 40, 30)), want, 90); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	x, err := exif.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[exif.FieldName]string{
		exif.Make: `"Greenhouse"`, exif.Model: `"Test camera"`, exif.Orientation: "6", exif.ExposureTime: `"1/200"`,
		exif.FNumber: `"11000000/1000000"`, exif.ISOSpeedRatings: "200", exif.FocalLength: `"60000000/1000000"`,
		exif.Flash:            "1",
		exif.DateTimeOriginal: `"2026:05:03 10:21:07"`, exif.SubSecTimeOriginal: `"350"`,
	} {
		tag, err := x.Get(name)
		if err != nil || tag.String() != want {
			t.Errorf("%s: %v, %v; want %s", name, tag, err, want)
		}
	}
}

// EXIF 2.32, tag 0x0112: where the stored row 0 and column 0 lie in the picture as displayed.
func TestOrientations(t *testing.T) {
	im := image.NewRGBA(image.Rect(0, 0, 6, 4))
	sides := map[string]image.Point{"top": {-1, 0}, "bottom": {-1, 3}, "left": {0, -1}, "right": {5, -1}}
	for y := range 4 {
		for x := range 6 {
			im.SetRGBA(x, y, color.RGBA{R: uint8(x), G: uint8(y), A: 255})
		}
	}
	on := func(c color.RGBA, side string) bool {
		s := sides[side]
		return (s.X < 0 || int(c.R) == s.X) && (s.Y < 0 || int(c.G) == s.Y)
	}
	for i, rc := range [][2]string{{"top", "left"}, {"top", "right"}, {"bottom", "right"}, {"bottom", "left"},
		{"left", "top"}, {"right", "top"}, {"right", "bottom"}, {"left", "bottom"}} {
		s := stored(im, i+1)
		for x := range s.Rect.Dx() {
			if !on(s.RGBAAt(x, 0), rc[0]) {
				t.Errorf("orientation %d: stored row 0 is not the %s", i+1, rc[0])
				break
			}
		}
		for y := range s.Rect.Dy() {
			if !on(s.RGBAAt(0, y), rc[1]) {
				t.Errorf("orientation %d: stored column 0 is not the %s", i+1, rc[1])
				break
			}
		}
	}
}
