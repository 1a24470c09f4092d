package vision

import (
	"image"
	"image/color"
	"math"
	"testing"
)

// A part of a JPEG is what the whole has there, and the reduced picture its means, for each orientation of Exif.
func TestPartsOfPhotos(t *testing.T) {
	const w, h = 203, 131
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, color.RGBA{uint8(x), uint8(2 * y % 256), uint8(128 + 100*math.Sin(float64(x+2*y)/15)), 255})
		}
	}
	data, err := EncodeJPEG(img, 95)
	if err != nil {
		t.Fatal(err)
	}
	for orientation := 1; orientation <= 8; orientation++ {
		p := &photo{memory: new(memory), data: data, orientation: orientation}
		if err := p.start(); err != nil {
			t.Fatal(err)
		}
		whole, err := p.reduced(1)
		if err != nil || image.Pt(whole.w, whole.h) != p.size() {
			t.Fatalf("orientation %d: %d x %d, %v", orientation, whole.w, whole.h, err)
		}
		r := image.Rect(17, 33, 101, 90)
		part, shared, err := p.part(r)
		if err != nil || shared != image.Pt(2, 2) {
			t.Fatalf("orientation %d: colours shared by %v: %v", orientation, shared, err)
		}
		if d := farthest(part.part(image.Rect(2, 2, 80, 50)), whole.part(r).part(image.Rect(2, 2, 80, 50))); d > 1 {
			t.Errorf("orientation %d: a part differs from the whole by %d tones", orientation, d)
		}
		small, err := p.reduced(4)
		if err != nil {
			t.Fatal(err)
		}
		if d := farthest(small.part(image.Rect(0, 0, 30, 30)), whole.reduced(4).part(image.Rect(0, 0, 30, 30))); d > 6 {
			t.Errorf("orientation %d: the reduced picture differs from the whole's means by %d tones", orientation, d)
		}
	}
	p := &photo{memory: new(memory), data: data, orientation: 1}
	if err := p.start(); err != nil {
		t.Fatal(err)
	}
	if _, _, err := p.part(image.Rect(150, 100, 260, 120)); err == nil {
		t.Error("a part outside the picture was decoded")
	}
}

func farthest(a, b *colour) int {
	d := 0
	for i := range a.pix {
		d = max(d, int(a.pix[i])-int(b.pix[i]), int(b.pix[i])-int(a.pix[i]))
	}
	return d
}
