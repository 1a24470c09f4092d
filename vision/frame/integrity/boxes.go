package integrity

import (
	"encoding/binary"
	"fmt"
)

// box is one box of the ISO base media file format (ISO/IEC 14496-12, 4.2).
type box struct {
	kind string // four letters; of a box of kind uuid the 16 bytes of it follow in hex
	at   int64  // of its content in the file
	body []byte
}

// mostBoxes bounds the boxes that one box may hold and be gone through.
const mostBoxes = 4096

// boxes goes through the boxes that lie one after the other in data, which begins at base in the
// file, and hands each to visit. A last box that runs past the end is handed on as far as it goes,
// with cut set. It ends where visit is not content.
func boxes(data []byte, base int64, visit func(b box, cut bool) bool) {
	for range mostBoxes {
		if len(data) < 8 {
			return
		}
		size, head := int64(binary.BigEndian.Uint32(data)), int64(8)
		switch {
		case size == 1 && len(data) >= 16:
			size, head = int64(binary.BigEndian.Uint64(data[8:])), 16
		case size == 0: // to the end of what holds it
			size = int64(len(data))
		}
		b := box{kind: string(data[4:8])}
		if b.kind == "uuid" && int64(len(data)) >= head+16 {
			b.kind = fmt.Sprintf("uuid %x", data[head:head+16])
			head += 16
		}
		if size < head {
			return
		}
		cut := size > int64(len(data))
		size = min(size, int64(len(data)))
		if size < head {
			return
		}
		b.at, b.body = base+head, data[head:size]
		if !visit(b, cut) {
			return
		}
		data, base = data[size:], base+size
	}
}

// brandOf is the major brand of an ISO base media file; "" for any other.
func brandOf(data []byte) string {
	if len(data) < 12 || string(data[4:8]) != "ftyp" {
		return ""
	}
	return string(data[8:12])
}
