package jpegfile

import (
	"bytes"
	"encoding/binary"
	"math"
	"time"
)

// Exif is what a camera says of a frame. Zero fields are left out of the file, Flash and
// Orientation apart.
type Exif struct {
	Make, Model string
	Taken       time.Time // written with sub-seconds to 1/1000 and its offset from UTC
	Exposure    float64   // s
	FNumber     float64
	ISO         int
	Focal       float64 // m
	Fired       bool
	Orientation int // 1 to 8
}

// TIFF 6.0 field types, and the tags of EXIF 2.32 (CIPA DC-008) that are written.
const (
	typeASCII    = 2
	typeShort    = 3
	typeLong     = 4
	typeRational = 5

	tagMake, tagModel, tagOrientation, tagExif = 0x010F, 0x0110, 0x0112, 0x8769
	tagExposure, tagFNumber, tagISO            = 0x829A, 0x829D, 0x8827
	tagTaken, tagOffset, tagSubSec             = 0x9003, 0x9011, 0x9291
	tagFlash, tagFocal                         = 0x9209, 0x920A
)

// entry is one field of a directory; data longer than four bytes goes behind it.
type entry struct {
	tag, kind uint16
	count     uint32
	data      []byte
}

func ascii(tag uint16, s string) entry {
	return entry{tag, typeASCII, uint32(len(s) + 1), append([]byte(s), 0)}
}

func short(tag uint16, v int) entry {
	return entry{tag, typeShort, 1, binary.LittleEndian.AppendUint16(nil, uint16(v))}
}

func long(tag uint16, v int) entry {
	return entry{tag, typeLong, 1, binary.LittleEndian.AppendUint32(nil, uint32(v))}
}

// rational writes v in millionths, or as one part in so many where v is the inverse of a whole number.
func rational(tag uint16, v float64) entry {
	num, den := uint32(math.Round(v*1e6)), uint32(1e6)
	if inv := math.Round(1 / v); v < 1 && math.Abs(v*inv-1) < 1e-9 {
		num, den = 1, uint32(inv)
	}
	d := binary.LittleEndian.AppendUint32(nil, num)
	return entry{tag, typeRational, 1, binary.LittleEndian.AppendUint32(d, den)}
}

// directory lays out one image file directory that begins offset bytes into the TIFF block.
func directory(es []entry, offset int) []byte {
	var head, tail bytes.Buffer
	behind := offset + 2 + 12*len(es) + 4
	le := binary.LittleEndian
	head.Write(le.AppendUint16(nil, uint16(len(es))))
	for _, e := range es {
		head.Write(le.AppendUint32(le.AppendUint16(le.AppendUint16(nil, e.tag), e.kind), e.count))
		if len(e.data) <= 4 {
			head.Write(append(e.data, 0, 0, 0, 0)[:4])
			continue
		}
		head.Write(le.AppendUint32(nil, uint32(behind+tail.Len())))
		tail.Write(e.data)
		if tail.Len()%2 == 1 {
			tail.WriteByte(0)
		}
	}
	head.Write([]byte{0, 0, 0, 0})
	return append(head.Bytes(), tail.Bytes()...)
}

// segment returns the JPEG APP1 segment that holds the EXIF block.
func (x Exif) segment() []byte {
	camera := []entry{ascii(tagMake, x.Make), ascii(tagModel, x.Model),
		short(tagOrientation, max(1, x.Orientation)), long(tagExif, 0)}
	const first = 8
	second := first + len(directory(camera, first))
	camera[3] = long(tagExif, second)
	block := append([]byte("II*\x00\x08\x00\x00\x00"), directory(camera, first)...)
	block = append(block, directory(x.shot(), second)...)
	body := append([]byte("Exif\x00\x00"), block...)
	return append(binary.BigEndian.AppendUint16([]byte{0xFF, 0xE1}, uint16(len(body)+2)), body...)
}

// shot returns the fields of the Exif directory in rising order of tag, as TIFF 6.0 asks.
func (x Exif) shot() []entry {
	var es []entry
	if x.Exposure > 0 {
		es = append(es, rational(tagExposure, x.Exposure))
	}
	if x.FNumber > 0 {
		es = append(es, rational(tagFNumber, x.FNumber))
	}
	if x.ISO > 0 {
		es = append(es, short(tagISO, x.ISO))
	}
	if !x.Taken.IsZero() {
		es = append(es, ascii(tagTaken, x.Taken.Format("2006:01:02 15:04:05")),
			ascii(tagOffset, x.Taken.Format("-07:00")))
	}
	fired := 0
	if x.Fired {
		fired = 1
	}
	es = append(es, short(tagFlash, fired))
	if x.Focal > 0 {
		es = append(es, rational(tagFocal, x.Focal*1000))
	}
	if !x.Taken.IsZero() {
		es = append(es, ascii(tagSubSec, x.Taken.Format(".000")[1:]))
	}
	return es
}
