package frame

import (
	"bytes"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/rwcarlsen/goexif/tiff"

	"leadmark/fit/note"
	"leadmark/vision/frame/integrity"
)

// readExif fills f from an EXIF block and says what in the block could not be believed. What is
// missing or nonsense leaves f as it is.
func readExif(data []byte, f *Frame) (doubt note.Note) {
	fields, doubts, wrong := integrity.ExifFields(data)
	if !wrong.None() {
		return note.Of(integrity.CodeExif, "block", wrong)
	}
	x := exif(fields)
	f.Make, f.Model = x.text(integrity.TagMake), x.text(integrity.TagModel)
	if o, ok := x.integer(integrity.TagOrientation); ok && 1 <= o && o <= 8 {
		f.Orientation = o
	}
	f.Exposure = x.positive(integrity.TagExposureTime)
	f.FNumber = x.positive(integrity.TagFNumber)
	f.Focal = x.positive(integrity.TagFocal) / 1000 // stated in mm
	// 65535: more than the field holds
	if iso, ok := x.integer(integrity.TagISO); ok && 0 < iso && iso < 65535 {
		f.ISO = iso
	}
	if bits, ok := x.integer(integrity.TagFlash); ok && bits >= 0 {
		f.Flash = flashOf(bits)
	}
	f.Taken, f.ZoneKnown = x.taken()
	if len(doubts) == 0 {
		return note.Note{}
	}
	return note.Of(integrity.CodeExif, "part", doubts)
}

// exif are the fields of a block by their tags.
type exif map[uint16]integrity.Field

// value decodes a field; nil where there is none, or none of the format.
func (x exif) value(tag uint16, formats ...tiff.Format) *tiff.Tag {
	f, there := x[tag]
	if !there {
		return nil
	}
	r := bytes.NewReader(f.Block)
	if _, err := r.Seek(f.At, io.SeekStart); err != nil {
		return nil
	}
	v, err := tiff.DecodeTag(r, f.Order)
	if err != nil || !slices.Contains(formats, v.Format()) {
		return nil
	}
	return v
}

// positive returns a field's first value, or 0 unless it is a finite number above 0. A numerator of
// 2^32-1 stands for "unknown" or "infinite".
func (x exif) positive(tag uint16) float64 {
	t := x.value(tag, tiff.RatVal, tiff.FloatVal, tiff.IntVal)
	if t == nil {
		return 0
	}
	v := 0.0
	switch t.Format() {
	case tiff.RatVal:
		num, den, err := t.Rat2(0)
		if err != nil || num <= 0 || den <= 0 || num == math.MaxUint32 {
			return 0
		}
		v = float64(num) / float64(den)
	case tiff.FloatVal:
		v, _ = t.Float(0)
	case tiff.IntVal:
		n, _ := t.Int64(0)
		v = float64(n)
	}
	if !(v > 0) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

func (x exif) integer(tag uint16) (int, bool) {
	t := x.value(tag, tiff.IntVal)
	if t == nil {
		return 0, false
	}
	v, err := t.Int(0)
	return v, err == nil
}

// text returns a string field up to its first NUL, without what cannot be printed and without
// blanks around it.
func (x exif) text(tag uint16) string {
	t := x.value(tag, tiff.StringVal)
	if t == nil {
		return ""
	}
	s, _, _ := strings.Cut(string(t.Val), "\x00")
	s = strings.Map(func(r rune) rune {
		if r == unicode.ReplacementChar || !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	return strings.TrimSpace(s)
}

// flashOf takes the Flash tag apart (bits 0; 1 and 2; 3 and 4; 5; 6).
func flashOf(bits int) *Flash {
	return &Flash{Fired: bits&1 != 0, Return: bits >> 1 & 3, Mode: bits >> 3 & 3,
		NoFunction: bits&32 != 0, RedEye: bits&64 != 0}
}

// taken returns DateTimeOriginal with its sub-seconds, in the zone of OffsetTimeOriginal where that
// is stated.
func (x exif) taken() (t time.Time, zoneKnown bool) {
	zone, zoneKnown := parseOffset(x.text(integrity.TagOffsetTime))
	t, err := time.ParseInLocation("2006:01:02 15:04:05", x.text(integrity.TagTaken), zone)
	if err != nil {
		return time.Time{}, false
	}
	return t.Add(subSeconds(x.text(integrity.TagSubSec))), zoneKnown
}

// subSeconds reads the digits behind the decimal point of the second: "5" and "50" are half a
// second, "05" a twentieth.
func subSeconds(digits string) time.Duration {
	if digits == "" || strings.Trim(digits, "0123456789") != "" {
		return 0
	}
	ns, _ := strconv.Atoi((digits + "000000000")[:9])
	return time.Duration(ns)
}

// parseOffset reads "+HH:MM" or "-HH:MM". Anything else, blanks too, means that the zone is not
// known.
func parseOffset(s string) (*time.Location, bool) {
	if len(s) != 6 || (s[0] != '+' && s[0] != '-') || s[3] != ':' {
		return time.UTC, false
	}
	h, err1 := strconv.ParseUint(s[1:3], 10, 8)
	m, err2 := strconv.ParseUint(s[4:6], 10, 8)
	if err1 != nil || err2 != nil || h > 14 || m > 59 { // UTC+14 is the farthest zone in use
		return time.UTC, false
	}
	seconds := int(h)*3600 + int(m)*60
	if s[0] == '-' {
		seconds = -seconds
	}
	return time.FixedZone("", seconds), true
}
