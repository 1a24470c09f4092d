package frame

import (
	"bytes"
	"strings"
)

// leastPreview is the least long side, in pixels, of an embedded JPEG that is taken for the
// picture: smaller ones are thumbnails, on which graduations do not show.
const leastPreview = 1000

// rawKinds are the RAW files that are read through their largest embedded JPEG, by the ending of
// their names.
func rawKinds() map[string]string {
	return map[string]string{
		".cr2": "CR2", ".cr3": "CR3", ".nef": "NEF", ".nrw": "NRW", ".arw": "ARW", ".dng": "DNG",
		".raf": "RAF", ".orf": "ORF", ".rw2": "RW2", ".pef": "PEF",
	}
}

// rawKind tells a RAW file by its bytes where they show it, else by its name: many begin like a
// TIFF. It is "" for any other file.
func rawKind(ext string, data []byte) string {
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
		return rawKinds()[strings.ToLower(ext)]
	}
	return ""
}

// openRaw reads what the structure of a RAW file names.
func openRaw(kind string, data []byte) (rawFile, *fault) {
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
func walkRaw(kind string, data []byte) (header, *fault) {
	r, bad := openRaw(kind, data)
	if bad != nil {
		return header{}, bad
	}
	best, bad := r.largest(kind, data)
	if bad != nil {
		return header{}, bad
	}
	h, bad := walkJPEG(data[best.at : best.at+best.n])
	if bad != nil {
		return header{}, faultf(bad.code, "of the JPEG inside the %s file: %s", kind, bad.text)
	}
	h.raw, h.piece = kind, best
	h.exif, h.more = r.exif, h.exif
	return h, nil
}

// largest is the JPEG with most pixels. Places beyond the end of the file show that it was cut off,
// unless a larger JPEG is whole.
func (r rawFile) largest(kind string, data []byte) (piece, *fault) {
	var best piece
	pixels, side, missing := 0, 0, int64(0)
	for _, p := range r.pieces {
		if p.at <= 0 || p.n <= 0 {
			continue
		}
		if p.at+p.n > int64(len(data)) || p.at+p.n < p.at {
			missing = max(missing, p.n)
			continue
		}
		if w, h, ok := jpegSize(data[p.at : p.at+p.n]); ok && w*h > pixels {
			best, pixels, side = p, w*h, max(w, h)
		}
	}
	switch {
	case missing > best.n:
		return best, faultf("truncated",
			"the %s file names places beyond its own end; copy it from the card again", kind)
	case side < leastPreview && side > 0:
		return best, faultf("no-preview",
			"the largest JPEG inside the %s file is %d px long, a thumbnail; develop it to a "+
				"JPEG of the same name", kind, side)
	case side == 0:
		return best, faultf("no-preview",
			"the %s file holds no JPEG that could be read; develop it to a JPEG of the same name",
			kind)
	}
	return best, nil
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
		if bad != nil || code == mSOS || !segmentMarker(code) {
			return 0, 0, false
		}
		body, bad := w.body()
		if bad != nil {
			return 0, 0, false
		}
		if isFrameHeader(code) && w.frameHeader(code, body) != nil {
			return 0, 0, false
		}
	}
	return w.frame.width, w.frame.height, true
}
