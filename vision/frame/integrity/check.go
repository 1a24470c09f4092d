package integrity

import (
	"bytes"

	"leadmark/fit/note"
)

// Check follows the structure of a picture's file to its end. The bytes are believed; the ending of
// the file's name only tells a RAW file from a TIFF. It never panics, whatever the bytes.
func Check(ext string, data []byte) (Header, note.Note) {
	h, bad := readHeader(ext, data)
	if bad.None() {
		bad = checkSize(h.Width, h.Height)
	}
	return h, bad
}

func readHeader(ext string, data []byte) (Header, note.Note) {
	if len(data) > MaxBytes {
		return Header{}, TooLarge(int64(len(data)))
	}
	raw := RawKind(ext, data)
	switch {
	case raw != "":
		return walkRaw(raw, data)
	case len(data) == 0:
		return Header{}, note.New("empty")
	case bytes.HasPrefix(data, []byte("\xff\xd8")):
		return walkJPEG(data)
	case bytes.HasPrefix(data, []byte(pngMagic)):
		return walkPNG(data)
	case hasTIFFMagic(data):
		return walkTIFF(data)
	}
	return Header{}, otherKind(data)
}

// otherKind names the picture formats that are met in practice and not read.
func otherKind(data []byte) note.Note {
	kinds := []struct {
		at          int
		magic, name string
	}{
		{0, "GIF8", "GIF"}, {0, "BM", "BMP"}, {8, "WEBP", "WebP"}, {0, "II+\x00", "BigTIFF"},
		{0, "MM\x00+", "BigTIFF"},
		{0, "HEAPCCDR", "CRW"}, {0, "FOVb", "X3F"}, {0, "\x00MRM", "MRW"},
		{0, "\x00\x00\x00\x0cJXL ", "JPEG XL"}, {0, "\xff\x0a", "JPEG XL"},
	}
	for _, k := range kinds {
		if len(data) >= k.at+len(k.magic) && string(data[k.at:k.at+len(k.magic)]) == k.magic {
			return NotRead(k.name)
		}
	}
	switch brandOf(data) {
	case "":
		return note.New("not-a-picture")
	case "heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1", "heif":
		return NotRead("HEIF")
	case "avif", "avis":
		return NotRead("AVIF")
	}
	return note.Of("unsupported-format", "film")
}
