package pixel_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"leadmark/vision/frame"
	"leadmark/vision/frame/integrity"
	"leadmark/vision/pixel"
)

// smooth is a picture of gentle tones, so that compression changes it little.
func smooth(w, h int) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetGray(x, y, color.Gray{Y: uint8(128 + 60*math.Sin(float64(x)/31) + 50*math.Cos(float64(y)/23))})
		}
	}
	return m
}

func encoded(t *testing.T, m image.Image) []byte {
	t.Helper()
	data, err := library.EncodeJPEG(m, 95)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Go's own decoder is the reference for the whole picture, its mean over squares for the reduced
// ones. Inverse transforms may differ by a grey level or two (ITU-T T.83 bounds them), and ringing
// is averaged away in other ways.
func TestDecodedLikeGosOwnDecoder(t *testing.T) {
	const w, h = 171, 130 // no multiples of the blocks
	data := encoded(t, smooth(w, h))
	want, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	for _, denom := range []int{1, 2, 4} {
		got, err := pixel.DecodeJPEG(library, data, make([]byte, w*h), w, h, denom)
		if err != nil {
			t.Fatal(err)
		}
		for y := range h / denom {
			for x := range w / denom {
				sum := 0.0
				for dy := range denom {
					for dx := range denom {
						r, _, _, _ := want.At(x*denom+dx, y*denom+dy).RGBA()
						sum += float64(r >> 8)
					}
				}
				if d := math.Abs(float64(got.Pix[y*got.W+x]) - sum/float64(denom*denom)); d > 3 {
					t.Fatalf("1/%d at (%d, %d): off by %.1f", denom, x, y, d)
				}
			}
		}
	}
}

func TestOnlyTheRowsWanted(t *testing.T) {
	const w, h = 200, 300
	data := encoded(t, smooth(w, h))
	whole, err := pixel.DecodeJPEG(library, data, make([]byte, w*h), w, h, 2)
	if err != nil {
		t.Fatal(err)
	}
	part, err := pixel.DecodeJPEG(library, data, make([]byte, w*h), w, 128, 2)
	if err != nil || part.H != 64 {
		t.Fatalf("%d rows, %v", part.H, err)
	}
	if !bytes.Equal(part.Pix[:part.W*part.H], whole.Pix[:part.W*part.H]) {
		t.Error("the rows differ from the whole picture's")
	}
}

// Whatever stands in a file, decoding it ends with a picture or an error.
func TestDamagedJPEGs(t *testing.T) {
	const w, h = 160, 120
	good := encoded(t, smooth(w, h))
	rnd := rand.New(rand.NewPCG(2, 9))
	refused := 0
	for range 400 {
		bad := bytes.Clone(good)
		for range 1 + rnd.IntN(20) {
			bad[rnd.IntN(len(bad))] = byte(rnd.UintN(256))
		}
		if rnd.IntN(3) == 0 {
			bad = bad[:rnd.IntN(len(bad))]
		}
		if _, err := pixel.DecodeJPEG(library, bad, make([]byte, w*h), w, h, 1<<rnd.IntN(3)); err != nil {
			refused++
		}
	}
	if refused < 200 {
		t.Errorf("%d of 400 damaged files were refused", refused)
	}
	if _, err := pixel.DecodeJPEG(library, good[:len(good)/2], make([]byte, w*h), w, h, 1); err == nil {
		t.Error("a JPEG cut in half was decoded: its lower part is grey")
	}
	if _, err := pixel.DecodeJPEG(library, good, make([]byte, 4*w*h), 2*w, h, 1); err == nil {
		t.Error("a picture was decoded at another size than its own")
	}
}

func TestEncodeRefusesNothing(t *testing.T) {
	for _, r := range []image.Rectangle{{}, image.Rect(0, 0, 70000, 1)} {
		if _, err := library.EncodeJPEG(&image.Gray{Rect: r, Pix: make([]uint8, r.Dx()*r.Dy()), Stride: r.Dx()},
			80); err == nil {
			t.Errorf("a picture of %v was encoded", r)
		}
	}
	m := image.NewRGBA(image.Rect(0, 0, 9, 7))
	if data := encoded(t, m); len(data) == 0 {
		t.Error("nothing was encoded")
	}
}

func TestMemoryIsBounded(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	if err := os.WriteFile(path, make([]byte, 4096), 0o666); err != nil {
		t.Fatal(err)
	}
	m := &pixel.Decoder{Library: library}
	all := listed(t, path)
	within := func(f frame.Frame, at, n int64) frame.Frame {
		f.PictureAt, f.PictureBytes = at, n
		return f
	}
	for what, f := range map[string]frame.Frame{
		"a folder":                   {Path: filepath.Dir(path)},
		"more than there is":         within(all, 4000, 200),
		"more than is ever read":     within(all, 1, integrity.MaxBytes+1),
		"a place far behind its end": within(all, 1<<40, 4),
		"what was not listed":        {Path: path, Size: 4096},
		"a file that is not there":   {Path: path + "x", Digest: all.Digest, Size: 4096},
	} {
		if _, err := m.File(f); err == nil {
			t.Errorf("%s was read", what)
		}
	}
	for n, f := range map[int]frame.Frame{4096: all, 100: within(all, 3996, 100)} {
		if data, err := m.File(f); err != nil || len(data) != n {
			t.Errorf("%d bytes, %v", len(data), err)
		}
	}
	if err := os.Truncate(path, integrity.MaxBytes+1); err != nil { // sparse: takes no room
		t.Skip(err)
	}
	if _, err := m.File(frame.Frame{Path: path, Size: integrity.MaxBytes + 1}); err == nil {
		t.Error("a file over the bound was read")
	}
}

// The JPEG inside a RAW file is decoded as one that lies by itself, turned as the RAW file says.
func TestRawIsDecodedLikeItsJPEG(t *testing.T) {
	dir := t.TempDir()
	jpg := encoded(t, smooth(1210, 640))
	o := binary.LittleEndian
	raw := append(o.AppendUint32([]byte("II*\x00"), 8), 3, 0)
	for _, f := range [][4]uint32{{0x0112, 3, 6, 0}, {0x0201, 4, 50, 0}, {0x0202, 4, uint32(len(jpg)), 0}} {
		raw = o.AppendUint32(o.AppendUint32(o.AppendUint16(o.AppendUint16(raw, uint16(f[0])), uint16(f[1])), 1), f[2])
	}
	raw = append(append(raw, 0, 0, 0, 0), jpg...)
	path := filepath.Join(dir, "a.nef")
	if err := os.WriteFile(path, append(raw, make([]byte, 5000)...), 0o666); err != nil {
		t.Fatal(err)
	}
	alone := filepath.Join(dir, "a.jpg")
	if err := os.WriteFile(alone, jpg, 0o666); err != nil {
		t.Fatal(err)
	}
	f, bad := frame.Open(path)
	g, bad2 := frame.Open(alone)
	if bad != nil || bad2 != nil || f.Width != 640 || f.Height != 1210 {
		t.Fatalf("%+v %v %v", f, bad, bad2)
	}
	g.Orientation, g.Width, g.Height = 6, g.Height, g.Width
	m := &pixel.Decoder{Library: library}
	got, err := m.Decode(f, 1, integrity.MaxSide)
	want, err2 := m.Decode(g, 1, integrity.MaxSide)
	if err != nil || err2 != nil || !bytes.Equal(got.Levels[0].Pix, want.Levels[0].Pix) {
		t.Errorf("another picture: %v %v", err, err2)
	}
	p, err := m.Open(f)
	if err != nil || p.Size() != image.Pt(640, 1210) {
		t.Fatalf("%v", err)
	}
	defer p.Close()
	if c, err := p.Part(image.Rect(20, 10, 620, 1200), false); err != nil || c.W != 600 || c.H != 1190 {
		t.Errorf("part: %v", err)
	}
}
