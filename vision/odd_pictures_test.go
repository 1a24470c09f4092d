package vision

import (
	"bytes"
	"context"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"golang.org/x/image/tiff"

	"leadmark/testdata"
	"leadmark/vision/frame"
	"leadmark/vision/pixel"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
	"leadmark/vision/synth/photo"
	"leadmark/vision/synth/studies"
)

// readBytes opens, looks at and interprets a picture as leadmark read does.
func readBytes(t *testing.T, name string, data []byte) ruler.Reading {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	f, refused := frame.Open(path)
	if refused != nil {
		return ruler.Reading{Status: ruler.StatusRefused, Reason: refused.Note}
	}
	s, err := NewLooker(native.Library{}).Look(context.Background(), f, ruler.Hint{})
	if err != nil {
		t.Fatal(err)
	}
	return reading.Interpret(s, ruler.Spec{})
}

func encodePNG(t *testing.T, im image.Image) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := png.Encode(&buf, im); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// Pictures too small or too thin to show anything are refused with a reason and do no harm.
func TestTinyAndThinPictures(t *testing.T) {
	for _, size := range []image.Point{{X: 1, Y: 1}, {X: 1, Y: 30_000}, {X: 30_000, Y: 1}, {X: 31, Y: 31},
		{X: 32, Y: 32}, {X: 33, Y: 4000}} {
		im := image.NewGray(image.Rectangle{Max: size})
		for i := range im.Pix {
			im.Pix[i] = uint8(i / 3 % 2 * 200) // as regular as can be
		}
		var buf bytes.Buffer
		if err := jpeg.Encode(&buf, im, nil); err != nil {
			t.Fatal(err)
		}
		for name, data := range map[string][]byte{"thin.png": encodePNG(t, im), "thin.jpg": buf.Bytes()} {
			if r := readBytes(t, name, data); r.Status != ruler.StatusRefused || r.Reason.Code == "" {
				t.Errorf("%v %s: %s %s, want a refusal", size, name, r.Status, r.Reason)
			}
		}
	}
}

// A header may claim any size. package frame refuses it first; the decoder must not believe it
// either, as the file may change in between.
func TestHeaderOfThirtyThousand(t *testing.T) {
	data := encodePNG(t, image.NewGray(image.Rect(0, 0, 1, 1)))
	binary.BigEndian.PutUint32(data[16:], 30_000) // width and height in IHDR (PNG, 3rd ed., 11.2.1)
	binary.BigEndian.PutUint32(data[20:], 30_000)
	if r := readBytes(t, "huge.png", data); r.Status != ruler.StatusRefused {
		t.Errorf("PNG: %s", r.Status)
	}
	path := filepath.Join(t.TempDir(), "huge.png")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := grayOfFile(listed(t, path)); err == nil {
		t.Error("a header of 30,000 x 30,000 was decoded")
	}
}

// A ruler reads the same however its picture is stored: with 16 bits, in grey, with alpha, as JPEG
// or TIFF.
func TestKindsOfPictures(t *testing.T) {
	im, _ := photo.Render(studies.At("small", 5, 1).Scene)
	b := im.Bounds()
	grey, deep, deepGrey, alpha := image.NewGray(b), image.NewRGBA64(b), image.NewGray16(b), image.NewNRGBA(b)
	for y := range b.Dy() {
		for x := range b.Dx() {
			c := im.RGBAAt(x, y)
			grey.Set(x, y, c)
			deep.Set(x, y, c)
			deepGrey.Set(x, y, c)
			alpha.SetNRGBA(x, y, color.NRGBA{c.R, c.G, c.B, 255})
		}
	}
	tiffOf := func(im image.Image) []byte {
		var buf bytes.Buffer
		if err := tiff.Encode(&buf, im, nil); err != nil {
			t.Fatal(err)
		}
		return buf.Bytes()
	}
	jpegOf := func(im image.Image) []byte {
		var buf bytes.Buffer
		if err := jpeg.Encode(&buf, im, &jpeg.Options{Quality: 95}); err != nil {
			t.Fatal(err)
		}
		return buf.Bytes()
	}
	want := readBytes(t, "plain.png", encodePNG(t, im))
	if want.Status != ruler.StatusRead {
		t.Fatalf("the picture itself: %s", want.Reason)
	}
	for name, data := range map[string][]byte{
		"grey.png": encodePNG(t, grey), "deep.png": encodePNG(t, deep), "deepgrey.png": encodePNG(t, deepGrey),
		"alpha.png": encodePNG(t, alpha),
		"grey.jpg":  jpegOf(grey), "colour.jpg": jpegOf(im), "grey.tif": tiffOf(grey), "deep.tif": tiffOf(deep),
		"alpha.tif": tiffOf(alpha),
	} {
		r := readBytes(t, name, data)
		if r.Status != ruler.StatusRead || math.Abs(r.PxPerM/want.PxPerM-1) > 1e-3 {
			t.Errorf("%s: %s %s, %.2f px/m, want %.2f", name, r.Status, r.Reason, r.PxPerM, want.PxPerM)
		}
	}
}

// A JPEG of four inks (CMYK, as Adobe writes it) decodes to the tones of the same picture in RGB,
// which another program made. The pictures are those of the Go distribution, image/testdata.
func TestJPEGOfFourInks(t *testing.T) {
	dir := testdata.GoSource(t, "image", "testdata")
	var tones [2]*pixel.Gray
	for i, name := range []string{"video-001.cmyk.png", "video-001.cmyk.jpeg"} {
		g, err := grayOfFile(listed(t, filepath.Join(dir, name)))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		tones[i] = g
	}
	if tones[0].W != tones[1].W || tones[0].H != tones[1].H {
		t.Fatal("the two pictures differ in size")
	}
	var sum float64
	for i, v := range tones[0].Pix {
		sum += math.Abs(float64(v) - float64(tones[1].Pix[i]))
	}
	if mean := sum / float64(len(tones[0].Pix)); mean > 4 {
		t.Errorf("tones differ by %.1f code values on average", mean)
	}
}
