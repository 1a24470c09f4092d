package integrity

import "leadmark/fit/note"

// TIFF fields of the first directory that say where the picture lies (TIFF 6.0, section 8 and 15).
const (
	tagWidth, tagHeight         = 256, 257
	tagStripAt, tagStripBytes   = 273, 279
	tagSamples, tagRows         = 277, 278
	tagPlanar                   = 284
	tagTileWidth, tagTileHeight = 322, 323
	tagTileAt, tagTileBytes     = 324, 325
)

// walkTIFF reads the first directory and checks that its strips or tiles lie inside the file.
func walkTIFF(data []byte) (Header, note.Note) {
	b, first, wrong := openBlock(data)
	if !wrong.None() {
		return Header{}, tiffCut()
	}
	want := map[uint16]bool{}
	for _, t := range []uint16{tagWidth, tagHeight, tagStripAt, tagStripBytes, tagSamples, tagRows,
		tagPlanar,
		tagTileWidth, tagTileHeight, tagTileAt, tagTileBytes} {
		want[t] = true
	}
	entries, bad, wrong := b.directory(first, int64(len(data)), want)
	if !wrong.None() || len(bad) > 0 {
		return Header{}, tiffCut()
	}
	fields := map[uint16][]uint32{}
	for _, e := range entries {
		fields[e.tag] = b.integers(e)
	}
	w, h := first1(fields[tagWidth], 0), first1(fields[tagHeight], 0)
	if bad := checkSize(w, h); !bad.None() {
		return Header{}, bad
	}
	if bad := checkPieces(fields, w, h, int64(len(data))); !bad.None() {
		return Header{}, bad
	}
	return Header{Format: formatTIFF, Width: w, Height: h, Exif: [][]byte{data}}, note.Note{}
}

// checkPieces holds the strips or tiles against the size of the picture and of the file.
func checkPieces(fields map[uint16][]uint32, w, h int, size int64) note.Note {
	at, n, need := fields[tagStripAt], fields[tagStripBytes], 0
	if tw, th := first1(fields[tagTileWidth], 0), first1(fields[tagTileHeight], 0); tw > 0 &&
		th > 0 {
		at, n = fields[tagTileAt], fields[tagTileBytes]
		need = ceilDiv(w, tw) * ceilDiv(h, th)
	} else {
		need = ceilDiv(h, max(1, min(h, first1(fields[tagRows], h))))
	}
	if first1(fields[tagPlanar], 1) == 2 { // each colour apart
		need *= max(1, min(16, first1(fields[tagSamples], 1)))
	}
	if len(at) < need || (n != nil && len(n) < need) {
		return note.Of("damaged", "tiff-pieces", min(len(at), len(n)), need)
	}
	for i := range need {
		end := int64(at[i])
		if n != nil {
			end += int64(n[i])
		}
		if end > size {
			return tiffCut()
		}
	}
	return note.Note{}
}

// first1 returns the first value as an int, or def where there is none.
func first1(v []uint32, def int) int {
	if len(v) == 0 {
		return def
	}
	return int(v[0])
}

func tiffCut() note.Note {
	return note.Of("truncated", "tiff")
}
