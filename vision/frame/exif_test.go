package frame

import (
	"bytes"
	"encoding/binary"
	"runtime"
	"strings"
	"testing"
	"time"
)

func orders() map[string]order {
	return map[string]order{"little": binary.LittleEndian, "big": binary.BigEndian}
}

// usual is a full set of fields, by the tag numbers of exiftool's EXIF table.
func usual(o order) (top, sub []field) {
	top = []field{ascii(0x010F, "Maker"), ascii(0x0110, "Maker One"), short(o, 0x0112, 6)}
	sub = []field{
		rational(o, 0x829A, 1, 200), rational(o, 0x829D, 110, 10), short(o, 0x8827, 200),
		rational(o, 0x920A, 1050, 10),
		ascii(0x9003, "2026:05:03 10:21:07"), ascii(0x9291, "35"), ascii(0x9011, "+02:00"),
		short(o, 0x9209, 16),
	}
	return top, sub
}

func TestExifFields(t *testing.T) {
	for name, o := range orders() {
		top, sub := usual(o)
		f := mustInspect(t, name, exifJPEG(t, exifBlock(o, top, sub)))
		if f.Make != "Maker" || f.Model != "Maker One" || f.Exposure != 0.005 || f.FNumber != 11 ||
			f.ISO != 200 || f.Focal != 0.105 {
			t.Errorf("%s: read %+v", name, f)
		}
		if got := f.Taken.Format(time.RFC3339Nano); got != "2026-05-03T10:21:07.35+02:00" ||
			!f.ZoneKnown {
			t.Errorf("%s: taken %s, zone known %v", name, got, f.ZoneKnown)
		}
		if *f.Flash != (Flash{Mode: 2}) || !f.Doubt.None() {
			t.Errorf("%s: flash %+v, doubt %s", name, f.Flash, f.Doubt)
		}
		if f.StoredWidth != 24 || f.StoredHeight != 16 || f.Width != 16 || f.Height != 24 ||
			f.Orientation != 6 {
			t.Errorf("%s: size %d x %d stored, %d x %d shown", name, f.StoredWidth, f.StoredHeight,
				f.Width, f.Height)
		}
	}
}

// Orientation 5 to 8 turn the picture by a quarter (CIPA DC-008, tag 0x0112); 0 and 9 are no
// orientations.
func TestOrientationTurnsTheSize(t *testing.T) {
	for o := uint16(0); o <= 9; o++ {
		f := mustInspect(t, "o", exifJPEG(t, exifBlock(binary.LittleEndian,
			[]field{short(binary.LittleEndian, 0x0112, o)}, nil)))
		want, w, h := int(o), 24, 16
		if o == 0 || o == 9 {
			want = 1
		}
		if want >= 5 {
			w, h = 16, 24
		}
		if f.Orientation != want || f.Width != w || f.Height != h {
			t.Errorf("orientation %d: read %d, %d x %d", o, f.Orientation, f.Width, f.Height)
		}
	}
}

func TestExifBehindXMP(t *testing.T) {
	top, sub := usual(binary.BigEndian)
	jpg := exifJPEG(t, exifBlock(binary.BigEndian, top, sub))
	xmp := append([]byte("http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta>Exif\x00\x00MM\x00*"),
		make([]byte, 300)...)
	f := mustInspect(t, "xmp first", withSegment(withSegment(jpg, 0xE1, xmp), 0xE0,
		[]byte("JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00")))
	if f.Exposure != 0.005 || f.Model != "Maker One" {
		t.Errorf("EXIF behind XMP was not read: %+v", f)
	}
}

// Nonsense is absent, never a made-up value, and leaves the other fields.
func TestExifNonsenseIsAbsent(t *testing.T) {
	o := binary.LittleEndian
	cases := map[string]field{
		"exposure 0":       rational(o, 0x829A, 0, 1),
		"exposure 1/0":     rational(o, 0x829A, 1, 0),
		"exposure 0/0":     rational(o, 0x829A, 0, 0),
		"exposure unknown": rational(o, 0x829A, 0xFFFFFFFF, 1),
		"exposure below 0": {0x829A, 10, 1, o.AppendUint32(o.AppendUint32(nil, 0xFFFFFFFF),
			200)},
		"exposure as text":     ascii(0x829A, "1/200"),
		"f-number 0":           rational(o, 0x829D, 0, 10),
		"ISO 0":                short(o, 0x8827, 0),
		"ISO full":             short(o, 0x8827, 65535),
		"focal length 0":       rational(o, 0x920A, 0, 1),
		"date blank":           ascii(0x9003, "    :  :     :  :  "),
		"date of zeros":        ascii(0x9003, "0000:00:00 00:00:00"),
		"date in words":        ascii(0x9003, "third of May"),
		"month 13":             ascii(0x9003, "2026:13:03 10:21:07"),
		"flash as a fraction":  rational(o, 0x9209, 1, 1),
		"value out of bounds":  {0x829A, 5, 1 << 20, make([]byte, 8)},
		"type that is unknown": {0x829A, 99, 1, make([]byte, 4)},
		"no value":             {0x829A, 5, 0, make([]byte, 4)},
	}
	for name, bad := range cases {
		f := mustInspect(t, name, exifJPEG(t, exifBlock(o, []field{ascii(0x0110, "Body")},
			[]field{bad, ascii(0x9011, "+02:00")})))
		if f.Exposure != 0 || f.FNumber != 0 || f.ISO != 0 || f.Focal != 0 || !f.Taken.IsZero() ||
			f.ZoneKnown || f.Flash != nil {
			t.Errorf("%s: read %+v", name, f)
		}
		if f.Model != "Body" {
			t.Errorf("%s: the good field was lost", name)
		}
		broken := strings.Contains(name, "bounds") || strings.Contains(name, "type") ||
			name == "no value"
		if broken != (!f.Doubt.None()) {
			t.Errorf("%s: doubt %s", name, f.Doubt)
		}
	}
}

// "50" is 0.50 s, "880" 0.880 s, "00" 0: the digits behind the point, leading zeros included.
func TestSubSeconds(t *testing.T) {
	for digits, want := range map[string]time.Duration{
		"5": 500e6, "50": 500e6, "05": 50e6, "880": 880e6, "00": 0, "": 0, "0001": 1e5,
		"1234567890123": 123456789, "-5": 0, "5x": 0,
	} {
		if got := subSeconds(digits); got != want {
			t.Errorf("%q is %v, want %v", digits, got, want)
		}
	}
}

func TestOffsetTimeOriginal(t *testing.T) {
	o := binary.LittleEndian
	for text, want := range map[string]string{
		"+02:00": "2026-05-03T10:21:07+02:00", "-09:30": "2026-05-03T10:21:07-09:30",
		"+00:00": "2026-05-03T10:21:07Z", "+14:00": "2026-05-03T10:21:07+14:00",
		"   :  ": "", "": "", "02:00": "", "+25:00": "", "+02:60": "", "+2:00": "", "Z": "",
		"++2:00": "",
	} {
		f := mustInspect(t, text, exifJPEG(t, exifBlock(o, nil,
			[]field{ascii(0x9003, "2026:05:03 10:21:07"), ascii(0x9011, text)})))
		got := f.Taken.Format(time.RFC3339Nano)
		if f.ZoneKnown != (want != "") || (want != "" && got != want) {
			t.Errorf("%q: taken %s, zone known %v", text, got, f.ZoneKnown)
		}
		if want == "" && got != "2026-05-03T10:21:07Z" {
			t.Errorf("%q: without a zone the wall clock is kept, not %s", text, got)
		}
	}
}

// Flash values and their meaning: exiftool's list of values of tag 0x9209.
func TestFlashBits(t *testing.T) {
	for bits, want := range map[int]Flash{
		0: {}, 1: {Fired: true}, 5: {Fired: true, Return: 2}, 7: {Fired: true, Return: 3},
		9:  {Fired: true, Mode: 1},
		16: {Mode: 2}, 24: {Mode: 3}, 25: {Fired: true, Mode: 3},
		31: {Fired: true, Return: 3, Mode: 3}, 32: {NoFunction: true},
		73: {Fired: true, Mode: 1, RedEye: true}, 95: {Fired: true, Return: 3, Mode: 3,
			RedEye: true},
	} {
		if got := *flashOf(bits); got != want {
			t.Errorf("%d: %+v, want %+v", bits, got, want)
		}
	}
}

// hostile are blocks on which the EXIF library alone runs for ever, asks for gigabytes or panics.
func hostile() map[string][]byte {
	o := binary.LittleEndian
	directory := func(b []byte, f field, next uint32) []byte {
		b = o.AppendUint16(o.AppendUint16(o.AppendUint16(b, 1), f.tag), f.kind)
		return o.AppendUint32(append(o.AppendUint32(b, f.count),
			append(f.value, 0, 0, 0, 0)[:4]...), next)
	}
	start := o.AppendUint32([]byte("II*\x00"), 8)
	orientation := field{0x0112, 3, 1, []byte{6, 0}}
	loop := directory(directory(bytes.Clone(start), orientation, 26), orientation, 8)
	return map[string][]byte{
		"two directories in a ring": loop, // 44 bytes
		"a directory that is its own": directory(bytes.Clone(start),
			field{0x8769, 4, 1, o.AppendUint32(nil, 8)}, 8),
		"a count that overflows": append(directory(bytes.Clone(start),
			field{0x0112, 5, 0x20000001, []byte{8, 0}}, 0), make([]byte, 64)...),
		"a count of shorts": append(directory(bytes.Clone(start),
			field{0x0112, 3, 0x80000001, []byte{6, 0}}, 0), make([]byte, 64)...),
		"the largest count": directory(bytes.Clone(start),
			field{0x0112, 3, 0xFFFFFFFF, []byte{6, 0}}, 0),
		"a directory far outside": o.AppendUint32([]byte("II*\x00"), 0xFFFFFFF0),
		"many fields, none there": append(bytes.Clone(start), 0xFF, 0x7F),
		"a count below zero":      append(bytes.Clone(start), 0xFF, 0xFF),
		"nothing behind the mark": []byte("MM\x00*"),
		"no mark":                 []byte("not a block at all"),
	}
}

func TestHostileExif(t *testing.T) {
	for name, block := range hostile() {
		if name == "two directories in a ring" && len(block) != 44 {
			t.Fatalf("the ring has %d bytes", len(block))
		}
		f, _ := Inspect(name, exifJPEG(t, block)) // the library alone never returns from some
		ring := name == "two directories in a ring"
		if ring != (f.Orientation == 6) || ring != (f.Doubt.None()) {
			if name != "a directory that is its own" {
				t.Errorf("%s: orientation %d, doubt %s", name, f.Orientation, f.Doubt)
			}
		}
	}
}

// A count that overflows must cost next to nothing; the library alone asks for 13 GB.
func TestHostileExifIsCheap(t *testing.T) {
	for name, block := range hostile() {
		jpg := exifJPEG(t, block)
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		Inspect(name, jpg)
		runtime.ReadMemStats(&after)
		if n := after.TotalAlloc - before.TotalAlloc; n > 1<<20 {
			t.Errorf("%s: %d bytes were asked for", name, n)
		}
	}
}

// A value that runs a single byte past the end of its block, into what follows it in the file, is not
// read.
func TestExifValuePastTheEndOfItsBlock(t *testing.T) {
	for name, o := range orders() {
		block := exifBlock(o, nil, []field{rational(o, 0x829A, 1, 200)})
		for _, cut := range []int{0, 1, 4, 8} {
			var f Frame
			doubt := readExif(block[:len(block)-cut], &f) // its bytes go on behind it
			if whole := cut == 0; (f.Exposure == 0.005) != whole || doubt.None() != whole {
				t.Errorf("%s, %d bytes short: exposure %v, doubt %v", name, cut, f.Exposure, doubt)
			}
		}
	}
}
