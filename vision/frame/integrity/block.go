package integrity

import (
	"encoding/binary"

	"leadmark/fit/note"
)

// maxValue bounds the bytes of one EXIF value that is read: all wanted values are far shorter.
const maxValue = 1024

// typeSizes are the bytes of one value of each TIFF type (TIFF 6.0, section 2, and its first
// supplement), 1 to 13.
func typeSize(t uint16) int64 {
	sizes := [...]int64{0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4}
	if int(t) >= len(sizes) {
		return 0
	}
	return sizes[t]
}

// byteOrder reads and appends numbers in the block's order.
type byteOrder interface {
	binary.ByteOrder
	binary.AppendByteOrder
}

// block is a TIFF structure: a TIFF file, or the EXIF block of another one. Every offset in it is
// checked against its length before it is followed.
type block struct {
	data  []byte
	order byteOrder
}

// entry is one field of a directory with its value's bytes, which lie inside the block.
type entry struct {
	tag, kind uint16
	count     uint32
	value     []byte
	at        int64 // of the value in the block, where it is longer than four bytes
	entryAt   int64 // of the field's 12 bytes in the block
}

func hasTIFFMagic(data []byte) bool {
	return len(data) >= 4 && (string(data[:4]) == "II*\x00" || string(data[:4]) == "MM\x00*")
}

// isORF tells the marks that Olympus puts in place of a TIFF's.
func isORF(data []byte) bool {
	return len(data) >= 4 && (string(data[:4]) == "IIRO" || string(data[:4]) == "IIRS" ||
		string(data[:4]) == "MMOR")
}

// openBlock returns the block and the offset of its first directory.
func openBlock(data []byte) (b block, first uint32, wrong note.Note) {
	if len(data) < 8 || !hasTIFFMagic(data) && !isORF(data) && string(data[:4]) != "IIU\x00" {
		return block{}, 0, note.Of(CodeExif, "order")
	}
	b = block{data, binary.LittleEndian}
	if data[0] == 'M' {
		b.order = binary.BigEndian
	}
	return b, b.order.Uint32(data[4:]), note.Note{}
}

// directory returns the wanted fields of the directory at offset, the first of each tag, in file
// order. Fields whose value does not lie inside the block, or is longer than limit bytes, are left
// out and named in bad. The chain to further directories is not followed, so no cycle can be met.
func (b block) directory(offset uint32, limit int64, want map[uint16]bool) (found []entry,
	bad []uint16, wrong note.Note) {
	at, size := int64(offset), int64(len(b.data))
	if at+2 > size {
		return nil, nil, note.Of(CodeExif, "directory-outside")
	}
	n := int64(b.order.Uint16(b.data[at:]))
	if at+2+12*n > size {
		return nil, nil, note.Of(CodeExif, "directory-cut")
	}
	seen := map[uint16]bool{}
	for i := range n {
		raw := b.data[at+2+12*i:][:12]
		tag := b.order.Uint16(raw)
		if !want[tag] || seen[tag] {
			continue
		}
		seen[tag] = true
		e, ok := b.entry(raw, limit)
		if e.entryAt = at + 2 + 12*i; ok {
			found = append(found, e)
		} else {
			bad = append(bad, tag)
		}
	}
	return found, bad, note.Note{}
}

// entry reads one field of 12 bytes (TIFF 6.0, section 2).
func (b block) entry(raw []byte, limit int64) (entry, bool) {
	e := entry{tag: b.order.Uint16(raw), kind: b.order.Uint16(raw[2:]),
		count: b.order.Uint32(raw[4:])}
	n := int64(e.count) * typeSize(e.kind) // cannot overflow: 2^32 times 8
	if n == 0 || n > limit {
		return e, false
	}
	if n <= 4 {
		e.value = raw[8 : 8+n]
		return e, true
	}
	at := int64(b.order.Uint32(raw[8:]))
	if at+n > int64(len(b.data)) {
		return e, false
	}
	e.value, e.at = b.data[at:at+n], at
	return e, true
}

// mostIntegers bounds the numbers of one field: more than the strips of the largest picture that is
// opened, in 16 colours each apart.
const mostIntegers = 1 << 20

// integers returns the values of a field of BYTE, SHORT or LONG; nil for any other type, and for
// more than can be meant.
func (b block) integers(e entry) []uint32 {
	if e.count > mostIntegers {
		return nil
	}
	size := int(typeSize(e.kind))
	var read func([]byte) uint32
	switch e.kind {
	case 1:
		read = func(p []byte) uint32 { return uint32(p[0]) }
	case 3:
		read = func(p []byte) uint32 { return uint32(b.order.Uint16(p)) }
	case 4, 13: // IFD, of the first supplement to TIFF 6.0, is a LONG
		read = b.order.Uint32
	default:
		return nil
	}
	v := make([]uint32, 0, e.count)
	for p := e.value; len(p) >= size; p = p[size:] {
		v = append(v, read(p))
	}
	return v
}
