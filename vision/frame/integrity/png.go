package integrity

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"

	"leadmark/fit/note"
)

const pngMagic = "\x89PNG\r\n\x1a\n"

// pngChunk is one chunk and whether its check sum holds.
type pngChunk struct {
	kind string
	body []byte
	good bool
}

// walkPNG follows the chunks from IHDR to IEND (PNG, 5.3 and 5.6). Bytes after IEND are not looked
// at.
func walkPNG(data []byte) (Header, note.Note) {
	h := Header{Format: formatPNG}
	pos, hasData := len(pngMagic), false
	for {
		c, next, bad := readChunk(data, pos)
		if !bad.None() {
			return Header{}, bad
		}
		critical := c.kind[0]&0x20 == 0 // PNG, 5.4: an upper-case first letter
		switch {
		case critical && !c.good:
			return Header{}, note.Of("damaged", "png-sum", c.kind, pos)
		case (pos == len(pngMagic)) != (c.kind == "IHDR"):
			return Header{}, note.Of("damaged", "png-order")
		case c.kind == "IHDR":
			if h.Width, h.Height, bad = pngSize(c.body); !bad.None() {
				return Header{}, bad
			}
		case c.kind == "IDAT":
			hasData = true
		case c.kind == "eXIf" && c.good && h.Exif == nil:
			// some writers keep the JPEG's prefix
			h.Exif = [][]byte{bytes.TrimPrefix(c.body, []byte("Exif\x00\x00"))}
		case c.kind == "IEND" && !hasData:
			return Header{}, note.Of("damaged", "png-empty")
		case c.kind == "IEND":
			return h, note.Note{}
		}
		pos = next
	}
}

// readChunk reads the chunk at pos and returns where the next one begins.
func readChunk(data []byte, pos int) (c pngChunk, next int, bad note.Note) {
	rest := data[pos:]
	if len(rest) < 12 {
		return c, 0, pngCut()
	}
	n := int64(binary.BigEndian.Uint32(rest))
	if n > 1<<31-1 {
		return c, 0, note.Of("damaged", "png-length", pos)
	}
	for _, b := range rest[4:8] {
		if b|0x20 < 'a' || b|0x20 > 'z' {
			return c, 0, note.Of("damaged", "png-name", pos)
		}
	}
	if n > int64(len(rest)-12) {
		return c, 0, pngCut()
	}
	end := 8 + int(n)
	sum := binary.BigEndian.Uint32(rest[end:])
	c = pngChunk{string(rest[4:8]), rest[8:end], crc32.ChecksumIEEE(rest[4:end]) == sum}
	return c, pos + end + 4, note.Note{}
}

// pngSize reads IHDR (PNG, 11.2.1) and refuses what no decoder reads.
func pngSize(b []byte) (width, height int, bad note.Note) {
	if len(b) != 13 {
		return 0, 0, note.Of("damaged", "png-header", len(b))
	}
	depths := map[byte]string{0: "\x01\x02\x04\x08\x10", 2: "\x08\x10", 3: "\x01\x02\x04\x08",
		4: "\x08\x10", 6: "\x08\x10"}
	if !bytes.Contains([]byte(depths[b[9]]), b[8:9]) || b[10] != 0 || b[11] != 0 || b[12] > 1 {
		return 0, 0, note.Of("damaged", "png-kind")
	}
	w, h := binary.BigEndian.Uint32(b), binary.BigEndian.Uint32(b[4:])
	return int(w), int(h), checkSize(int(w), int(h))
}

func pngCut() note.Note {
	return note.Of("truncated", "png")
}
