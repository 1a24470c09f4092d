package pixel_test

import (
	"image"
	"image/color"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"leadmark/testdata"
	"leadmark/vision/pixel"
)

// waves is a picture that differs everywhere, of odd sides.
func waves() *image.RGBA {
	const w, h = 203, 131
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.Set(x, y, color.RGBA{uint8(x), uint8(2 * y % 256), uint8(128 + 100*math.Sin(float64(x+2*y)/15)), 255})
		}
	}
	return img
}

// A part of a JPEG is what the whole has there, for each orientation of Exif.
func TestPartsOfPhotos(t *testing.T) {
	data, err := library.EncodeJPEG(waves(), 95)
	if err != nil {
		t.Fatal(err)
	}
	for orientation := 1; orientation <= 8; orientation++ {
		p, err := pixel.PhotoOf(&pixel.Decoder{Library: library}, data, orientation)
		if err != nil {
			t.Fatal(err)
		}
		whole := p.Small()
		if image.Pt(whole.W, whole.H) != p.Size() {
			t.Fatalf("orientation %d: %d x %d", orientation, whole.W, whole.H)
		}
		r := image.Rect(17, 33, 101, 90)
		part, err := p.Part(r, false)
		if err != nil || p.Shared() != image.Pt(2, 2) {
			t.Fatalf("orientation %d: colours shared by %v: %v", orientation, p.Shared(), err)
		}
		if d := farthest(part, whole.Part(r)); d > 0 {
			t.Errorf("orientation %d: a part differs from the whole by %d tones", orientation, d)
		}
		p.Close()
	}
	p, err := pixel.PhotoOf(&pixel.Decoder{Library: library}, data, 1)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Part(image.Rect(150, 100, 260, 120), false); err == nil {
		t.Error("a part outside the picture was made")
	}
}

// What is made of a JPEG's planes is what libjpeg-turbo itself makes of the file, to the last tone,
// however colours are shared; files written by its cjpeg (Debian: libjpeg-turbo-progs).
func TestPlanesAgainstLibjpeg(t *testing.T) {
	tool := testdata.Program(t, "cjpeg", "libjpeg-turbo-progs", "-version")
	img := waves()
	ppm := []byte("P6\n203 131\n255\n")
	for i := 0; i < len(img.Pix); i += 4 {
		ppm = append(ppm, img.Pix[i:i+3]...)
	}
	path := filepath.Join(t.TempDir(), "waves.ppm")
	if err := os.WriteFile(path, ppm, 0o666); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		sample string
		more   []string
		shared image.Point
	}{{"1x1", nil, image.Pt(1, 1)}, {"2x1", nil, image.Pt(2, 1)}, {"2x2", nil, image.Pt(2, 2)},
		{"2x2", []string{"-progressive"}, image.Pt(2, 2)}, {"2x1", []string{"-restart", "1"}, image.Pt(2, 1)},
		{"1x2", nil, image.Pt(1, 2)}} {
		data, err := exec.Command(tool, append(append([]string{"-quality", strconv.Itoa(93), "-sample", c.sample},
			c.more...), path)...).Output()
		if err != nil {
			t.Fatal(err)
		}
		p, err := pixel.PhotoOf(&pixel.Decoder{Library: library}, data, 1)
		if err != nil || !p.HasPlanes() || p.Shared() != c.shared {
			t.Fatalf("%s %v: %v", c.sample, c.more, err)
		}
		theirs := pixel.NewColour(203, 131)
		if _, err := library.DecodeJPEG(data, 1, 3, theirs.Pix, 203, 131); err != nil {
			t.Fatal(err)
		}
		if d := farthest(p.Small(), theirs); d > 0 {
			t.Errorf("%s %v: differs from libjpeg by %d tones", c.sample, c.more, d)
		}
		for _, k := range []int{2, 4, 8} {
			smooth := image.Rect(0, 0, 203/k, 120/k) // further down the picture has a step
			q, err := library.DecodePlanes(data, k, p.Room)
			if err != nil || image.Pt(q.Small().W, q.Small().H) != image.Pt((203+k-1)/k, (131+k-1)/k) {
				t.Fatal(err)
			}
			if d := farthest(q.Small().Part(smooth), theirs.Reduced(k).Part(smooth)); d > 5 {
				t.Errorf("%s %v: reduced by %d it differs from the whole's means by %d tones", c.sample, c.more, k, d)
			}
		}
	}
}

// Levelled brightness is blurred by the weights 1 4 6 4 1 each way in which colours are shared: a
// step of light rises by their sums, 1 5 11 15 16 in 16.
func TestLevelledStep(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 64, 48))
	for i := range 64 * 48 {
		v := uint8(40)
		if i%64 >= 32 {
			v = 200
		}
		copy(img.Pix[4*i:], []byte{v, v, v, 255})
	}
	data, err := library.EncodeJPEG(img, 100)
	if err != nil {
		t.Fatal(err)
	}
	p, err := pixel.PhotoOf(&pixel.Decoder{Library: library}, data, 1)
	if err != nil {
		t.Fatal(err)
	}
	c, err := p.Part(image.Rect(26, 20, 38, 22), true)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []int{40, 40, 40, 40, 50, 90, 150, 190, 200, 200, 200, 200} {
		if got := int(c.Pix[3*i+1]); got < want-2 || got > want+2 {
			t.Errorf("pixel %d has tone %d, want %d", i, got, want)
		}
	}
}

func farthest(a, b *pixel.Colour) int {
	d := 0
	for i := range a.Pix {
		d = max(d, int(a.Pix[i])-int(b.Pix[i]), int(b.Pix[i])-int(a.Pix[i]))
	}
	return d
}

// The reduced picture is the same, turned, for each orientation of Exif, odd sides or not.
func TestSmallPhotos(t *testing.T) {
	for _, size := range []image.Point{{2400, 1600}, {2403, 1601}} {
		img := image.NewRGBA(image.Rectangle{Max: size})
		for y := range size.Y {
			for x := range size.X {
				img.SetRGBA(x, y, color.RGBA{uint8(x / 10), uint8(y / 8), 90, 255})
			}
		}
		data, err := library.EncodeJPEG(img, 95)
		if err != nil {
			t.Fatal(err)
		}
		for _, orientation := range []int{1, 3, 6, 8} {
			p, err := pixel.PhotoOf(&pixel.Decoder{Library: library}, data, orientation)
			if err != nil {
				t.Fatal(err)
			}
			whole, err := p.Part(image.Rectangle{Max: p.Size()}, false)
			if err != nil {
				t.Fatal(err)
			}
			if d := farthest(p.Small(), whole.Reduced(2)); d > 2 {
				t.Errorf("%v, orientation %d: differs from the whole's means by %d tones", size, orientation, d)
			}
		}
	}
}
