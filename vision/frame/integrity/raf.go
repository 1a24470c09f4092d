package integrity

import (
	"encoding/binary"

	"leadmark/fit/note"
)

// rafMagic begins a file of Fuji's.
const rafMagic = "FUJIFILMCCD-RAW "

// openRAF reads the header of a RAF file: at byte 84 stand the place and the length of its JPEG,
// both big-endian; the JPEG carries the EXIF block (the layout by exiftool's documentation of RAF
// files).
func openRAF(data []byte) (RawFile, note.Note) {
	if len(data) < 92 {
		return RawFile{}, note.Of("truncated", "raf")
	}
	return RawFile{Pieces: []Piece{{int64(binary.BigEndian.Uint32(data[84:])),
		int64(binary.BigEndian.Uint32(data[88:]))}}}, note.Note{}
}
