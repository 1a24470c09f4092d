package frame

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/image/tiff"

	"leadmark/testdata"
)

// TestTIFFsOfImageModule: TIFF pictures of golang.org/x/image made by several programs, tiled, in
// strips, of several compressions and both byte orders. Sizes come from that module's decoder.
func TestTIFFsOfImageModule(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join(testdata.Module(t, "golang.org/x/image"), "testdata",
		"*.tiff"))
	n := 0
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(path, "invalid") {
			continue
		}
		f := mustInspect(t, filepath.Base(path), data)
		c, err := tiff.DecodeConfig(bytes.NewReader(data))
		if err != nil || f.Width != c.Width || f.Height != c.Height || f.Format != "tiff" {
			t.Errorf("%s: %d x %d, the other decoder has %d x %d (%v)", path, f.Width, f.Height,
				c.Width, c.Height, err)
		}
		wantRefusal(t, filepath.Base(path)+" cut in half", data[:len(data)/2], "truncated")
		n++
	}
	if n < 8 {
		t.Errorf("only %d pictures found", n)
	}
}

func TestTIFFCut(t *testing.T) {
	var b bytes.Buffer
	if err := tiff.Encode(&b, picture(40, 24), nil); err != nil { // data first, directory behind
		t.Fatal(err)
	}
	mustInspect(t, "whole", b.Bytes())
	for n := 4; n < 8+40*24; n += 7 {
		wantRefusal(t, "cut", b.Bytes()[:n], "truncated")
	}
	front := tiffOf(24, 16, 24*16, nil, nil) // directory first
	mustInspect(t, "whole", front)
	wantRefusal(t, "cut by one byte", front[:len(front)-1], "truncated")
}

// tiffOf writes a grey picture in one strip, directory first, with the stated bytes of data.
func tiffOf(w, h, bytesOfData uint32, top, sub []field) []byte {
	o := binary.LittleEndian
	long := func(tag uint16, v uint32) field { return field{tag, 4, 1, o.AppendUint32(nil, v)} }
	fields := append([]field{long(256, w), long(257, h), long(258, 8), long(259, 1), long(262, 1),
		long(273, 0), long(278, h), long(279, bytesOfData)}, top...)
	at := uint32(len(exifBlock(o, fields, sub)))
	fields[5] = long(273, at)
	return append(exifBlock(o, fields, sub), make([]byte, bytesOfData)...)
}

func TestTIFFExif(t *testing.T) {
	top, sub := usual(binary.LittleEndian)
	f := mustInspect(t, "tiff", tiffOf(24, 16, 24*16, top, sub))
	if f.Exposure != 0.005 || f.Model != "Maker One" || f.Width != 16 || f.Height != 24 ||
		!f.Doubt.None() {
		t.Errorf("read %+v", f)
	}
}

func TestTIFFRefusals(t *testing.T) {
	wantRefusal(t, "no fields", exifBlock(binary.LittleEndian, nil, nil), "damaged")
	wantRefusal(t, "30,000 x 30,000", tiffOf(30_000, 30_000, 10, nil, nil), "too-large")
	wantRefusal(t, "2^32-1 px", tiffOf(0xFFFFFFFF, 0xFFFFFFFF, 10, nil, nil), "too-large")
	o := binary.LittleEndian
	strips := tiffOf(24, 16, 24*16, []field{{284, 4, 1, o.AppendUint32(nil, 2)},
		{277, 4, 1, o.AppendUint32(nil, 3)}}, nil)
	wantRefusal(t, "three planes in one strip", strips, "damaged")
	wantRefusal(t, "tiles without places", tiffOf(24, 16, 24*16,
		[]field{{322, 4, 1, o.AppendUint32(nil, 16)}, {323, 4, 1, o.AppendUint32(nil, 16)}}, nil),
		"damaged")
	wantRefusal(t, "mark only", []byte("II*\x00"), "truncated")
	wantRefusal(t, "BigTIFF", append([]byte("II+\x00\x08\x00\x00\x00"), make([]byte, 40)...),
		"unsupported-format")
	for name, block := range hostile() {
		if s := string(block); strings.HasPrefix(s, "II*\x00") || strings.HasPrefix(s, "MM\x00*") {
			if _, bad := Inspect(name, block); bad == nil {
				t.Errorf("%s was accepted as a picture", name)
			}
		}
	}
}
