package frame

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/rwcarlsen/goexif/exif"
	"github.com/rwcarlsen/goexif/tiff"

	"leadmark/vision/frame/integrity"
)

// offsetTimeOriginal is a name that the library does not know: the tag came with Exif 2.31.
const offsetTimeOriginal exif.FieldName = "OffsetTimeOriginal"

// readExif fills f from an EXIF block and says what in the block could not be believed.
// What is missing or nonsense leaves f as it is.
func readExif(data []byte, f *Frame) (doubt string) {
	small, doubt, err := integrity.Prune(data)
	if err != nil {
		return "the EXIF block cannot be read: " + err.Error()
	}
	x, err := decodeExif(small)
	if err != nil {
		return "the EXIF block cannot be read: " + err.Error()
	}
	f.Make, f.Model = text(x, exif.Make), text(x, exif.Model)
	if o, ok := integer(x, exif.Orientation); ok && 1 <= o && o <= 8 {
		f.Orientation = o
	}
	f.Exposure = positive(x, exif.ExposureTime)
	f.FNumber = positive(x, exif.FNumber)
	f.Focal = positive(x, exif.FocalLength) / 1000 // stated in mm
	// 65535: more than the field holds
	if iso, ok := integer(x, exif.ISOSpeedRatings); ok && 0 < iso && iso < 65535 {
		f.ISO = iso
	}
	if bits, ok := integer(x, exif.Flash); ok && bits >= 0 {
		f.Flash = flashOf(bits)
	}
	f.Taken, f.ZoneKnown = taken(x)
	if doubt != "" {
		doubt = "the EXIF block is broken in part: " + doubt
	}
	return doubt
}

// decodeExif decodes a block that prune wrote.
func decodeExif(small []byte) (*exif.Exif, error) {
	x, err := exif.Decode(bytes.NewReader(small))
	if err != nil {
		return nil, err
	}
	at, ok := integer(x, exif.ExifIFDPointer)
	if !ok {
		return x, nil
	}
	r := bytes.NewReader(small)
	if _, err := r.Seek(int64(at), 0); err != nil {
		return nil, err
	}
	dir, _, err := tiff.DecodeDir(r, x.Tiff.Order)
	if err != nil {
		return nil, err
	}
	x.LoadTags(dir, map[uint16]exif.FieldName{integrity.TagOffsetTime: offsetTimeOriginal}, false)
	return x, nil
}

// positive returns a field's first value, or 0 unless it is a finite number above 0. A numerator of
// 2^32-1 stands for "unknown" or "infinite".
func positive(x *exif.Exif, name exif.FieldName) float64 {
	tag, err := x.Get(name)
	if err != nil {
		return 0
	}
	v := 0.0
	switch tag.Format() {
	case tiff.RatVal:
		num, den, err := tag.Rat2(0)
		if err != nil || num <= 0 || den <= 0 || num == math.MaxUint32 {
			return 0
		}
		v = float64(num) / float64(den)
	case tiff.FloatVal:
		v, _ = tag.Float(0)
	case tiff.IntVal:
		n, _ := tag.Int64(0)
		v = float64(n)
	}
	if !(v > 0) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

func integer(x *exif.Exif, name exif.FieldName) (int, bool) {
	tag, err := x.Get(name)
	if err != nil || tag.Format() != tiff.IntVal {
		return 0, false
	}
	v, err := tag.Int(0)
	return v, err == nil
}

// text returns a string field up to its first NUL, without what cannot be printed and without
// blanks around it.
func text(x *exif.Exif, name exif.FieldName) string {
	tag, err := x.Get(name)
	if err != nil || tag.Format() != tiff.StringVal {
		return ""
	}
	s, _, _ := strings.Cut(string(tag.Val), "\x00")
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
func taken(x *exif.Exif) (t time.Time, zoneKnown bool) {
	zone, zoneKnown := parseOffset(text(x, offsetTimeOriginal))
	t, err := time.ParseInLocation("2006:01:02 15:04:05", text(x, exif.DateTimeOriginal), zone)
	if err != nil {
		return time.Time{}, false
	}
	return t.Add(subSeconds(text(x, exif.SubSecTimeOriginal))), zoneKnown
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
