package frame

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
)

// The builders below write EXIF and picture files for the tests, independently of the code that
// reads them.

// field is one EXIF field to write; value is []byte, or text with its NUL added.
type field struct {
	tag, kind uint16
	count     uint32
	value     []byte
}

func ascii(tag uint16, s string) field {
	return field{tag, 2, uint32(len(s) + 1), append([]byte(s), 0)}
}

// order reads and appends numbers.
type order interface {
	binary.ByteOrder
	binary.AppendByteOrder
}

func short(o order, tag, v uint16) field {
	return field{tag, 3, 1, o.AppendUint16(nil, v)}
}

func rational(o order, tag uint16, num, den uint32) field {
	return field{tag, 5, 1, o.AppendUint32(o.AppendUint32(nil, num), den)}
}

// exifBlock lays out a block with a first directory and an Exif directory.
func exifBlock(o order, top, sub []field) []byte {
	b := []byte("II*\x00")
	if o == order(binary.BigEndian) {
		b = []byte("MM\x00*")
	}
	b = o.AppendUint32(b, 8)
	subAt := uint32(8 + 2 + 12*(len(top)+1) + 4)
	top = append(top, field{0x8769, 4, 1, o.AppendUint32(nil, subAt)})
	valuesAt := subAt + uint32(2+12*len(sub)+4)
	var values []byte
	for _, dir := range [][]field{top, sub} {
		b = o.AppendUint16(b, uint16(len(dir)))
		for _, f := range dir {
			b = o.AppendUint16(o.AppendUint16(b, f.tag), f.kind)
			b = o.AppendUint32(b, f.count)
			if len(f.value) <= 4 {
				b = append(b, append(bytes.Clone(f.value), make([]byte, 4-len(f.value))...)...)
			} else {
				b = o.AppendUint32(b, valuesAt+uint32(len(values)))
				values = append(values, f.value...)
			}
		}
		b = o.AppendUint32(b, 0)
	}
	return append(b, values...)
}

// picture is a small noisy picture, so that its JPEG data are not trivial.
func picture(w, h int) image.Image {
	m := image.NewGray(image.Rect(0, 0, w, h))
	s := uint32(1)
	for i := range m.Pix {
		s = s*1664525 + 1013904223
		m.Pix[i] = byte(s >> 24)
	}
	return m
}

func plainJPEG(t testing.TB, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture(w, h), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// withSegment puts a marker segment right behind the start-of-image marker.
func withSegment(jpg []byte, code byte, body []byte) []byte {
	out := append([]byte(nil), jpg[:2]...)
	out = append(out, 0xFF, code)
	out = binary.BigEndian.AppendUint16(out, uint16(len(body)+2))
	return append(append(out, body...), jpg[2:]...)
}

func exifJPEG(t testing.TB, block []byte) []byte {
	t.Helper()
	return withSegment(plainJPEG(t, 24, 16), 0xE1, append([]byte("Exif\x00\x00"), block...))
}

func plainPNG(t testing.TB, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, picture(w, h)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func chunk(kind string, body []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	b = append(append(b, kind...), body...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// solid is a picture of one colour: the least data that a JPEG can have.
func solid(w, h int) image.Image {
	m := image.NewGray(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = color.Gray{Y: 200}.Y
	}
	return m
}

func mustInspect(t testing.TB, name string, data []byte) Frame {
	t.Helper()
	f, bad := Inspect(name, data)
	if bad != nil {
		t.Fatalf("%s refused: %s", name, bad)
	}
	return f
}

// wantRefusal checks the code; that each has its sentence is held where the sentences stand.
func wantRefusal(t testing.TB, what string, data []byte, code string) {
	t.Helper()
	_, bad := Inspect(what, data)
	switch {
	case bad == nil:
		t.Errorf("%s: accepted, want %s", what, code)
	case bad.Code != code:
		t.Errorf("%s: %s, want %s", what, bad, code)
	}
}
