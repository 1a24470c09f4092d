package integrity

import (
	"bytes"
	"strings"

	"leadmark/fit/note"
)

// leastPreview is the least long side, in pixels, of an embedded JPEG that is taken for the
// picture: smaller ones are thumbnails, on which graduations do not show.
const leastPreview = 1000

// RawKinds are the RAW files that are read through their largest embedded JPEG, by the ending of
// their names.
func RawKinds() map[string]string {
	return map[string]string{
		".cr2": "CR2", ".cr3": "CR3", ".nef": "NEF", ".nrw": "NRW", ".arw": "ARW", ".dng": "DNG",
		".raf": "RAF", ".orf": "ORF", ".rw2": "RW2", ".pef": "PEF",
	}
}

// RawKind tells a RAW file by its bytes where they show it, else by its name: many begin like a
// TIFF. It is "" for any other file.
func RawKind(ext string, data []byte) string {
	switch {
	case bytes.HasPrefix(data, []byte(rafMagic)):
		return "RAF"
	case isORF(data):
		return "ORF"
	case bytes.HasPrefix(data, []byte("IIU\x00")):
		return "RW2"
	case brandOf(data) == "crx ":
		return "CR3"
	case hasTIFFMagic(data) && len(data) > 10 && string(data[8:10]) == "CR":
		return "CR2"
	case hasTIFFMagic(data):
		return RawKinds()[strings.ToLower(ext)]
	}
	return ""
}

// OpenRaw reads what the structure of a RAW file names.
func OpenRaw(kind string, data []byte) (RawFile, note.Note) {
	switch kind {
	case "RAF":
		return openRAF(data)
	case "CR3":
		return openCR3(data)
	}
	return openRawTIFF(data)
}

// walkRaw finds the largest JPEG inside a RAW file, follows it to its end, and returns it as the
// picture.
func walkRaw(kind string, data []byte) (Header, note.Note) {
	r, bad := OpenRaw(kind, data)
	if !bad.None() {
		return Header{}, bad
	}
	best, bad := r.largest(kind, data)
	if !bad.None() {
		return Header{}, bad
	}
	h, bad := walkJPEG(data[best.At : best.At+best.Bytes])
	if !bad.None() {
		return Header{}, note.Of(bad.Code, "inside-raw", kind, bad)
	}
	h.Raw, h.Place = kind, best
	h.Exif = append(r.Exif, h.Exif...)
	return h, note.Note{}
}

// largest is the JPEG with most pixels. Places beyond the end of the file show that it was cut off,
// unless a larger JPEG is whole.
func (r RawFile) largest(kind string, data []byte) (Piece, note.Note) {
	var best Piece
	pixels, side, missing := 0, 0, int64(0)
	for _, p := range r.Pieces {
		if p.At <= 0 || p.Bytes <= 0 {
			continue
		}
		if p.At+p.Bytes > int64(len(data)) || p.At+p.Bytes < p.At {
			missing = max(missing, p.Bytes)
			continue
		}
		if w, h, ok := jpegSize(data[p.At : p.At+p.Bytes]); ok && w*h > pixels {
			best, pixels, side = p, w*h, max(w, h)
		}
	}
	switch {
	case missing > best.Bytes:
		return best, note.Of("truncated", "raw", kind)
	case side < leastPreview && side > 0:
		return best, note.Of("no-preview", "small", kind, side)
	case side == 0:
		return best, note.Of("no-preview", "none", kind)
	}
	return best, note.Note{}
}

// jpegSize reads a JPEG's size from its frame header; ok is false for what is none, and for the
// kinds that RAW data themselves are coded in (lossless, or of more than 8 bits).
func jpegSize(data []byte) (width, height int, ok bool) {
	if !bytes.HasPrefix(data, []byte("\xff\xd8")) {
		return 0, 0, false
	}
	w := jpegWalk{data: data, pos: 2}
	for !w.frame.seen {
		code, bad := w.marker()
		if !bad.None() || code == mSOS || !segmentMarker(code) {
			return 0, 0, false
		}
		body, bad := w.body()
		if !bad.None() {
			return 0, 0, false
		}
		if isFrameHeader(code) && !w.frameHeader(code, body).None() {
			return 0, 0, false
		}
	}
	return w.frame.width, w.frame.height, true
}
