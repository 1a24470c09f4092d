package integrity

import (
	"bytes"
	"encoding/binary"
	"slices"

	"leadmark/fit/note"
)

// Boxes of Canon's in a CR3 file (by exiftool's tag tables of Canon's boxes).
const (
	// inside moov: EXIF in the boxes CMT1 and CMT2
	canonBox = "uuid 85c0b687820f11e08111f4ce462b6a48"
	// at the top: a smaller JPEG in the box PRVW
	previewBox = "uuid eaf42b5e1c984b88b9fbb7dc406e4d16"
)

// cr3 is what is collected while the boxes are gone through.
type cr3 struct {
	RawFile
	top, sub []byte // the EXIF block's two directories, each a TIFF structure of its own
	cut      bool   // what describes the pictures runs past the end of the file
}

// openCR3 reads a CR3 file: an ISO base media file in which the first track's only sample is the
// JPEG of full size.
func openCR3(data []byte) (RawFile, note.Note) {
	var c cr3
	boxes(data, 0, func(b box, cut bool) bool {
		switch b.kind {
		case "moov":
			c.cut = c.cut || cut
			c.movie(b)
		case previewBox:
			c.preview(b)
		}
		return true
	})
	if c.cut || len(c.Pieces) == 0 {
		return RawFile{}, note.Of("truncated", "cr3")
	}
	c.Exif = slices.DeleteFunc([][]byte{c.top, c.sub}, func(b []byte) bool { return b == nil })
	return c.RawFile, note.Note{}
}

func (c *cr3) movie(moov box) {
	boxes(moov.body, moov.at, func(b box, _ bool) bool {
		switch b.kind {
		case canonBox:
			boxes(b.body, b.at, func(b box, _ bool) bool {
				switch b.kind {
				case "CMT1":
					c.top = b.body
				case "CMT2":
					c.sub = b.body
				}
				return true
			})
		case "trak":
			c.track(b)
		}
		return true
	})
}

// track adds a track's first sample: its size stands in the box stsz, its place in co64 or stco
// (ISO/IEC 14496-12, 8.7).
func (c *cr3) track(trak box) {
	var p Piece
	var look func(b box, _ bool) bool
	look = func(b box, _ bool) bool {
		switch b.kind {
		case "mdia", "minf", "stbl":
			boxes(b.body, b.at, look)
		case "stsz": // version, size common to all samples, count, sizes
			if p.Bytes = number(b.body, 4, 4); p.Bytes == 0 {
				p.Bytes = number(b.body, 12, 4)
			}
		case "co64":
			p.At = number(b.body, 8, 8)
		case "stco":
			p.At = number(b.body, 8, 4)
		}
		return true
	}
	boxes(trak.body, trak.at, look)
	c.Pieces = append(c.Pieces, p)
}

// preview adds the smaller JPEG: behind 8 bytes a box PRVW with 12 bytes of its size, 4 of its
// length, and it.
func (c *cr3) preview(outer box) {
	if len(outer.body) < 8 {
		return
	}
	boxes(outer.body[8:], outer.at+8, func(b box, _ bool) bool {
		if at := bytes.Index(b.body[:min(len(b.body), 64)],
			[]byte("\xff\xd8\xff")); b.kind == "PRVW" && at >= 4 {
			c.Pieces = append(c.Pieces, Piece{b.at + int64(at),
				min(number(b.body, at-4, 4), int64(len(b.body)-at))})
		}
		return true
	})
}

// number reads a big-endian number of 4 or 8 bytes; 0 where it does not lie inside, or is too large
// to be a place.
func number(data []byte, at, size int) int64 {
	if at < 0 || at+size > len(data) {
		return 0
	}
	if size == 4 {
		return int64(binary.BigEndian.Uint32(data[at:]))
	}
	return int64(min(binary.BigEndian.Uint64(data[at:]), 1<<62))
}
