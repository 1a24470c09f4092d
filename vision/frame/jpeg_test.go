package frame

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/testdata"
)

// TestJPEGsOfTheGoDistribution: sampling, restart markers, progressive, gray and CMYK pictures made
// by other encoders (src/image/testdata). Their size comes from Go's own decoder.
func TestJPEGsOfTheGoDistribution(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join(testdata.GoSource(t, "image", "testdata"), "*.jpeg"))
	if len(files) < 20 {
		t.Fatalf("only %d pictures found", len(files))
	}
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Base(path)
		if strings.Contains(name, "truncated") {
			wantRefusal(t, name, data, "truncated")
			continue
		}
		f := mustInspect(t, name, data)
		c, err := jpeg.DecodeConfig(bytes.NewReader(data))
		if err != nil || f.Width != c.Width || f.Height != c.Height || f.Format != "jpeg" {
			t.Errorf("%s: %d x %d, Go's decoder has %d x %d (%v)", name, f.Width, f.Height, c.Width,
				c.Height, err)
		}
		cutEverywhere(t, name, data, len(data)/97+1)
	}
}

// cutEverywhere checks that every cut of a whole picture is found, in steps.
func cutEverywhere(t *testing.T, name string, data []byte, step int) {
	t.Helper()
	for n := len(data) - 1; n >= 2; n -= step {
		_, bad := Inspect(name, data[:n])
		if bad == nil || bad.Code != "truncated" {
			t.Fatalf("%s cut to %d of %d bytes: %+v", name, n, len(data), bad)
		}
	}
}

func TestJPEGCutAtEveryByte(t *testing.T) {
	cutEverywhere(t, "gray", plainJPEG(t, 40, 24), 1)
}

// What follows the end-of-image marker is another matter: padding, or the second picture of a
// multi-picture file.
func TestJPEGWithMoreBehindItsEnd(t *testing.T) {
	jpg := plainJPEG(t, 40, 24)
	for name, more := range map[string][]byte{
		"zeros": make([]byte, 5000), "a second picture": plainJPEG(t, 320, 240),
		"half a picture": plainJPEG(t, 320, 240)[:900], "noise": []byte("\xff\xff\xff\xd9\xff"),
	} {
		f := mustInspect(t, name, append(bytes.Clone(jpg), more...))
		if f.Width != 40 || f.Height != 24 {
			t.Errorf("%s: %d x %d", name, f.Width, f.Height)
		}
	}
}

// A thumbnail is a whole JPEG inside a segment: neither its size nor its end is the picture's.
func TestJPEGWithThumbnail(t *testing.T) {
	whole := withSegment(plainJPEG(t, 40, 24), 0xE2, append([]byte("THUMB\x00"),
		plainJPEG(t, 16, 8)...))
	if f := mustInspect(t, "thumbnail", whole); f.Width != 40 {
		t.Errorf("width %d", f.Width)
	}
	wantRefusal(t, "cut behind its thumbnail", whole[:len(whole)-300], "truncated")
}

func TestJPEGFillBytes(t *testing.T) {
	jpg := plainJPEG(t, 40, 24)
	filled := append([]byte{0xFF, 0xD8, 0xFF, 0xFF, 0xFF}, jpg[2:]...)
	filled = append(filled[:len(filled)-2], 0xFF, 0xFF, 0xFF, 0xD9) // T.81, B.1.1.2
	mustInspect(t, "fill bytes", filled)
}

// Pictures of one colour take the least data; they must not be called damaged.
func TestJPEGWithLittleData(t *testing.T) {
	for _, size := range []int{1, 7, 8, 9, 500} {
		for _, m := range []image.Image{solid(size, size),
			image.NewRGBA(image.Rect(0, 0, size, size+3))} {
			var b bytes.Buffer
			if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 1}); err != nil {
				t.Fatal(err)
			}
			mustInspect(t, "little data", b.Bytes())
		}
	}
}

// scanStart returns where the coded data begin.
func scanStart(t *testing.T, jpg []byte) int {
	t.Helper()
	at := bytes.Index(jpg, []byte{0xFF, 0xDA})
	if at < 0 {
		t.Fatal("no scan")
	}
	return at + 2 + int(binary.BigEndian.Uint16(jpg[at+2:]))
}

// Half of the coded data overwritten by noise, and a picture cut in half with an end marker put
// behind: both are decoded without an error by the usual library, with grey below. How many are
// found is measured, not promised for each.
func TestJPEGScrambled(t *testing.T) {
	jpg := plainJPEG(t, 400, 300)
	from := scanStart(t, jpg)
	r := rand.New(rand.NewPCG(1, 2))
	found := 0
	const tries = 200
	for range tries {
		bad := bytes.Clone(jpg)
		for i := from + (len(jpg)-from)/2; i < len(bad)-2; i++ {
			bad[i] = byte(r.Uint32())
		}
		if _, refusal := Inspect("noise", bad); refusal != nil {
			found++
		}
	}
	t.Logf("%d of %d scrambled pictures found", found, tries)
	// One 0xFF in 256 bytes, and 1 of 256 of those makes an early end marker: about 1 in 250 may
	// slip through.
	if found < tries*95/100 {
		t.Errorf("only %d of %d scrambled pictures found", found, tries)
	}
	wantRefusal(t, "one tenth with an end put behind", append(bytes.Clone(jpg[:from+200]), 0xFF,
		0xD9), "damaged")
}

func TestJPEGRestartMarkers(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(testdata.GoSource(t, "image", "testdata"),
		"video-001.restart2.jpeg"))
	if err != nil {
		t.Fatal(err)
	}
	first, last := bytes.LastIndex(data, []byte{0xFF, 0xD0}),
		bytes.LastIndex(data, []byte{0xFF, 0xD2})
	if first < 0 || last < first {
		t.Fatal("the picture's three restart markers are not there")
	}
	wrong := bytes.Clone(data)
	wrong[first+1] = 0xD5
	wantRefusal(t, "out of order", wrong, "damaged")
	wantRefusal(t, "the last interval missing", append(bytes.Clone(data[:last]), 0xFF, 0xD9),
		"damaged")
	mustInspect(t, "one at the very end", append(bytes.Clone(data[:len(data)-2]), 0xFF,
		nextRestart(data), 0xFF, 0xD9))
}

// nextRestart returns the restart marker that would come after the last one of the picture's only
// scan.
func nextRestart(data []byte) byte {
	n := 0
	for i := bytes.LastIndex(data, []byte{0xFF, 0xDA}); i+1 < len(data); i++ {
		if data[i] == 0xFF && 0xD0 <= data[i+1] && data[i+1] <= 0xD7 {
			n++
		}
	}
	return 0xD0 + byte(n%8)
}

func TestJPEGRefusals(t *testing.T) {
	jpg := plainJPEG(t, 40, 24)
	sof := bytes.Index(jpg, []byte{0xFF, 0xC0})
	with := func(at int, b ...byte) []byte {
		c := bytes.Clone(jpg)
		copy(c[at:], b)
		return c
	}
	wantRefusal(t, "start only", jpg[:2], "truncated")
	wantRefusal(t, "start and end", []byte{0xFF, 0xD8, 0xFF, 0xD9}, "damaged")
	wantRefusal(t, "text behind the start", []byte("\xff\xd8 this is no picture"), "damaged")
	wantRefusal(t, "30,000 x 30,000", with(sof+5, 0x75, 0x30, 0x75, 0x30), "too-large")
	wantRefusal(t, "no height", with(sof+5, 0, 0), "damaged")
	wantRefusal(t, "12 bits", with(sof+4, 12), "unsupported-format")
	wantRefusal(t, "lossless", with(sof+1, 0xC3), "unsupported-format")
	wantRefusal(t, "arithmetic", with(sof+1, 0xC9), "unsupported-format")
	wantRefusal(t, "segment of length 1", with(4, 0, 1), "damaged")
	wantRefusal(t, "larger than its data", with(sof+5, 0x10, 0x00, 0x10, 0x00), "damaged")
}
