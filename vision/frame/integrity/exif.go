package integrity

import (
	"encoding/binary"

	"leadmark/fit/note"
)

// Tags that are read, by their numbers in exiftool's EXIF table.
const (
	TagMake, TagModel, TagOrientation  = 0x010F, 0x0110, 0x0112
	tagExifIFD                         = 0x8769
	TagExposureTime, TagFNumber        = 0x829A, 0x829D
	TagISO                             = 0x8827
	TagTaken, TagOffsetTime, TagSubSec = 0x9003, 0x9011, 0x9291
	TagFlash, TagFocal                 = 0x9209, 0x920A
)

// Field is where an EXIF block holds one value: its entry of 12 bytes (TIFF 6.0, section 2) stands
// at At. It was checked: the value is of one of TIFF 6.0's twelve types, at most 1,024 bytes long,
// and lies inside the block.
type Field struct {
	Block []byte
	Order binary.ByteOrder
	At    int64
}

// CodeExif is of what an EXIF block says that could not be believed.
const CodeExif = "exif-doubt"

// ExifFields finds the wanted fields of an EXIF block by their tags, the first of each in the Exif
// directory and else in the block's first one, and says what was wrong with the rest, or why the
// block cannot be read. The EXIF library is handed these alone: in whole blocks a cycle of
// directories makes it run for ever, a count that overflows makes it ask for gigabytes, and one bad
// field in a directory loses all the good ones.
func ExifFields(data []byte) (fields map[uint16]Field, doubts []note.Note, wrong note.Note) {
	b, first, wrong := openBlock(data)
	if !wrong.None() {
		return nil, nil, wrong
	}
	found, bad, wrong := b.directory(first, maxValue, wanted())
	if !wrong.None() {
		return nil, nil, wrong
	}
	for _, e := range found {
		if e.tag != tagExifIFD {
			continue
		}
		sub, more, broken := b.exifDirectory(e)
		if !broken.None() {
			doubts = append(doubts, broken)
		}
		found, bad = append(found, sub...), append(bad, more...)
		break
	}
	fields = map[uint16]Field{}
	for _, e := range found {
		switch {
		case e.tag == tagExifIFD:
		case e.kind > 12: // beyond TIFF 6.0, which the library does not know
			bad = append(bad, e.tag)
		default:
			fields[e.tag] = Field{data, b.order, e.entryAt}
		}
	}
	for _, t := range bad {
		doubts = append(doubts, note.Of(CodeExif, "tag", int(t)))
	}
	return fields, doubts, note.Note{}
}

func (b block) exifDirectory(pointer entry) ([]entry, []uint16, note.Note) {
	at := b.integers(pointer)
	if len(at) == 0 {
		return nil, nil, note.Of(CodeExif, "main-directory")
	}
	want := wanted()
	delete(want, TagOrientation)
	delete(want, tagExifIFD)
	return b.directory(at[0], maxValue, want)
}

// wanted are the tags looked for in the first directory: TIFF/EP (ISO 12234-2) has the Exif
// directory's there too, and some telephones keep make and model in the Exif directory.
func wanted() map[uint16]bool {
	return tags(TagMake, TagModel, TagOrientation, tagExifIFD, TagExposureTime, TagFNumber, TagISO, TagTaken,
		TagOffsetTime, TagSubSec, TagFlash, TagFocal)
}

func tags(list ...uint16) map[uint16]bool {
	set := map[uint16]bool{}
	for _, t := range list {
		set[t] = true
	}
	return set
}
