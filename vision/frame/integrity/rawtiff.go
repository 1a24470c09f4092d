package integrity

import (
	"bytes"
	"slices"

	"leadmark/fit/note"
)

// Fields of a RAW file's directories (TIFF 6.0; TIFF/EP, ISO 12234-2; the makers' own by exiftool's
// tag tables).
const (
	tagPanasonicJPEG, tagPanasonicJPEG2 = 0x002E, 0x0127
	tagCompression                      = 0x0103 // 6 and 7 are JPEG
	tagSubDirectories                   = 0x014A
	tagJPEGAt, tagJPEGBytes             = 0x0201, 0x0202
	tagMakerNote                        = 0x927C
	tagOlympusSettings                  = 0x2020 // in Olympus' maker note
	tagOlympusJPEGAt                    = 0x0101 // in its settings
	tagOlympusJPEGBytes                 = 0x0102
)

// mostDirectories bounds the directories of a RAW file that are looked into: real ones have fewer
// than ten.
const mostDirectories = 32

// mostSubDirectories bounds how many of them one field may name.
const mostSubDirectories = 16

// openRawTIFF collects the JPEGs that the directories of a RAW file name: the chain of main
// directories with all their sub-directories, each once.
func openRawTIFF(data []byte) (RawFile, note.Note) {
	b, first, wrong := openBlock(data)
	if !wrong.None() {
		return RawFile{}, tiffCut()
	}
	r := RawFile{Exif: [][]byte{data}}
	todo, seen := []uint32{first}, map[uint32]bool{}
	for len(todo) > 0 && len(seen) < mostDirectories {
		at := todo[0]
		todo = todo[1:]
		if at == 0 || seen[at] {
			continue
		}
		seen[at] = true
		more, pieces, wrong := b.rawDirectory(at)
		if !wrong.None() && len(seen) == 1 {
			return RawFile{}, tiffCut()
		}
		r.Pieces = append(r.Pieces, pieces...)
		todo = append(todo, more...)
	}
	if isORF(data) {
		r.Pieces = append(r.Pieces, b.olympusJPEG(first)...)
	}
	return r, note.Note{}
}

// rawDirectory returns the JPEGs that a directory names and the directories that it leads to.
func (b block) rawDirectory(at uint32) (more []uint32, pieces []Piece, wrong note.Note) {
	entries, bad, wrong := b.directory(at, int64(len(b.data)), rawTags())
	if !wrong.None() {
		return nil, nil, wrong
	}
	if slices.Contains(bad, tagPanasonicJPEG) { // a value that does not lie in the file
		pieces = append(pieces, Piece{int64(len(b.data)), MaxBytes})
	}
	var jpeg, strip Piece
	coded := false // the strip is a JPEG
	for _, e := range entries {
		switch e.tag {
		case tagPanasonicJPEG, tagPanasonicJPEG2:
			pieces = append(pieces, Piece{e.at, int64(len(e.value))})
		case tagSubDirectories:
			if e.count <= mostSubDirectories {
				more = append(more, b.integers(e)...)
			}
		case tagJPEGAt:
			jpeg.At = b.single(e)
		case tagJPEGBytes:
			jpeg.Bytes = b.single(e)
		case tagCompression:
			c := b.single(e)
			coded = c == 6 || c == 7
		case tagStripAt:
			strip.At = b.single(e)
		case tagStripBytes:
			strip.Bytes = b.single(e)
		}
	}
	pieces = append(pieces, jpeg)
	if coded {
		pieces = append(pieces, strip)
	}
	return append(more, b.next(at)), pieces, note.Note{}
}

func rawTags() map[uint16]bool {
	return tags(tagPanasonicJPEG, tagPanasonicJPEG2, tagCompression, tagSubDirectories, tagJPEGAt,
		tagJPEGBytes, tagStripAt, tagStripBytes)
}

// single is the value of a field of one number; 0 for any other.
func (b block) single(e entry) int64 {
	if v := b.integers(e); len(v) == 1 {
		return int64(v[0])
	}
	return 0
}

// next is the directory that follows in the chain; 0 at its end.
func (b block) next(at uint32) uint32 {
	if int64(at)+2 > int64(len(b.data)) {
		return 0
	}
	end := int64(at) + 2 + 12*int64(b.order.Uint16(b.data[at:]))
	if end+4 > int64(len(b.data)) {
		return 0
	}
	return b.order.Uint32(b.data[end:])
}

// olympusJPEG finds the JPEG that Olympus names in its maker note alone. Places in the note count
// from its own beginning; a note of the first cameras, which begins with "OLYMP", counts from that
// of the file.
func (b block) olympusJPEG(first uint32) []Piece {
	exif, ok := b.one(first, tagExifIFD)
	if !ok || len(b.integers(exif)) == 0 {
		return nil
	}
	maker, ok := b.one(b.integers(exif)[0], tagMakerNote)
	if !ok {
		return nil
	}
	inside, start := block{data: maker.value, order: b.order}, maker.at
	var from uint32
	switch {
	case bytes.HasPrefix(maker.value, []byte("OLYMPUS\x00")):
		from = 12
	case bytes.HasPrefix(maker.value, []byte("OM SYSTEM\x00")):
		from = 16
	case bytes.HasPrefix(maker.value, []byte("OLYMP\x00")):
		inside, from, start = b, uint32(start)+8, 0
	default:
		return nil
	}
	if start > 0 {
		inside.data = b.data[start:]
	}
	settings, ok := inside.one(from, tagOlympusSettings)
	place := inside.integers(settings)
	if !ok || len(place) == 0 {
		return nil
	}
	at, ok1 := inside.one(place[0], tagOlympusJPEGAt)
	n, ok2 := inside.one(place[0], tagOlympusJPEGBytes)
	if !ok1 || !ok2 {
		return nil
	}
	return []Piece{{start + inside.single(at), inside.single(n)}}
}

// one reads one field of a directory.
func (b block) one(at uint32, tag uint16) (entry, bool) {
	found, _, wrong := b.directory(at, int64(len(b.data)), tags(tag))
	return append(found, entry{})[0], wrong.None() && len(found) == 1
}
