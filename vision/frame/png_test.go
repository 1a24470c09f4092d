package frame

import (
	"bytes"
	"encoding/binary"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"leadmark/testdata"
)

// TestPNGsOfTheGoDistribution: Willem van Schaik's PngSuite (basic set) and Go's own broken files.
// Sizes come from Go's decoder.
func TestPNGsOfTheGoDistribution(t *testing.T) {
	dir := testdata.GoSource(t, "image", "png", "testdata")
	files, _ := filepath.Glob(filepath.Join(dir, "pngsuite", "*.png"))
	if len(files) < 20 {
		t.Fatalf("only %d pictures found", len(files))
	}
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		f := mustInspect(t, filepath.Base(path), data)
		c, err := png.DecodeConfig(bytes.NewReader(data))
		if err != nil || f.Width != c.Width || f.Height != c.Height || f.Format != "png" {
			t.Errorf("%s: %d x %d, Go's decoder has %d x %d (%v)", path, f.Width, f.Height, c.Width,
				c.Height, err)
		}
	}
	for name, code := range map[string]string{"invalid-crc32.png": "damaged",
		"invalid-noend.png": "truncated", "invalid-trunc.png": "truncated"} {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		wantRefusal(t, name, data, code)
	}
}

func TestPNGCutOrChangedAtEveryByte(t *testing.T) {
	data := plainPNG(t, 20, 10)
	for n := len(data) - 1; n >= 8; n-- {
		wantRefusal(t, "cut", data[:n], "truncated")
	}
	for i := 8; i < len(data); i++ {
		bad := bytes.Clone(data)
		bad[i] ^= 0x01
		if _, refusal := Inspect("changed", bad); refusal == nil {
			t.Errorf("a bit changed at byte %d of %d was not seen", i, len(data))
		}
	}
	mustInspect(t, "more behind its end", append(bytes.Clone(data), "padding"...))
}

func TestPNGExif(t *testing.T) {
	data := plainPNG(t, 20, 10)
	top, sub := usual(binary.BigEndian)
	block := exifBlock(binary.BigEndian, top, sub)
	const afterHeader = 8 + 25
	insert := func(c []byte) []byte {
		return append(append(bytes.Clone(data[:afterHeader]), c...), data[afterHeader:]...)
	}
	for name, body := range map[string][]byte{"plain": block,
		"with a JPEG's prefix": append([]byte("Exif\x00\x00"), block...)} {
		f := mustInspect(t, name, insert(chunk("eXIf", body)))
		if f.Exposure != 0.005 || f.Orientation != 6 || f.Width != 10 || f.Height != 20 ||
			!f.ZoneKnown {
			t.Errorf("%s: read %+v", name, f)
		}
	}
	broken := chunk("eXIf", block)
	broken[30] ^= 1 // an ancillary chunk may be passed over (PNG, 5.4): the picture is whole
	if f := mustInspect(t, "broken", insert(broken)); f.Exposure != 0 {
		t.Errorf("a chunk with a wrong check sum was believed: %+v", f)
	}
}

func TestPNGRefusals(t *testing.T) {
	header := func(w, h uint32, rest ...byte) []byte {
		b := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
		return append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", append(b, rest...))...)
	}
	end := chunk("IEND", nil)
	data := chunk("IDAT", []byte{1, 2, 3})
	wantRefusal(t, "no data", append(header(4, 4, 8, 0, 0, 0, 0), end...), "damaged")
	wantRefusal(t, "width 0", append(header(0, 4, 8, 0, 0, 0, 0), end...), "damaged")
	wantRefusal(t, "2^31 px wide", append(header(1<<31, 4, 8, 0, 0, 0, 0), end...), "too-large")
	wantRefusal(t, "100,000 px high", append(header(1, 100_000, 8, 0, 0, 0, 0), end...),
		"too-large")
	wantRefusal(t, "30,000 x 30,000", append(header(30_000, 30_000, 8, 0, 0, 0, 0), end...),
		"too-large")
	wantRefusal(t, "3 bits", append(header(4, 4, 3, 0, 0, 0, 0), append(data, end...)...),
		"damaged")
	wantRefusal(t, "16 bits with a palette", append(header(4, 4, 16, 3, 0, 0, 0),
		append(data, end...)...), "damaged")
	wantRefusal(t, "header missing", append([]byte("\x89PNG\r\n\x1a\n"), append(data, end...)...),
		"damaged")
	wantRefusal(t, "header twice", append(header(4, 4, 8, 0, 0, 0, 0),
		header(4, 4, 8, 0, 0, 0, 0)[8:]...), "damaged")
	wantRefusal(t, "name of digits", append(header(4, 4, 8, 0, 0, 0, 0), chunk("1234", nil)...),
		"damaged")
}
