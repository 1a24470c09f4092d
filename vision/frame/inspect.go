package frame

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"path/filepath"
)

// Inspect looks through the bytes of one picture file and returns what they say, or why they cannot
// be used. name is only handed on. It never fails otherwise and never panics, whatever the bytes.
func Inspect(name string, data []byte) (Frame, *Refusal) {
	h, bad := readHeader(filepath.Ext(name), data)
	if bad == nil {
		bad = checkSize(h.width, h.height)
	}
	if bad != nil {
		return Frame{}, &Refusal{Name: name, Code: bad.code, Text: bad.text}
	}
	sum := sha256.Sum256(data)
	f := Frame{
		Name: name, Format: h.format, Digest: hex.EncodeToString(sum[:]), Size: int64(len(data)),
		StoredWidth: h.width, StoredHeight: h.height, Raw: h.raw, PictureAt: h.piece.at,
		PictureBytes: h.piece.n,
	}
	if h.exif != nil {
		f.Doubt = readExif(h.exif, &f)
	}
	if h.more != nil {
		complete(&f, h.more)
	}
	f.Orientation = max(f.Orientation, 1)
	f.Width, f.Height = h.width, h.height
	if f.Orientation >= 5 { // 5 to 8 turn by a quarter
		f.Width, f.Height = h.height, h.width
	}
	return f, nil
}

// complete fills in what f does not say from a second EXIF block.
func complete(f *Frame, data []byte) {
	var g Frame
	doubt := readExif(data, &g)
	if f.Doubt == "" {
		f.Doubt = doubt
	}
	if f.Make == "" && f.Model == "" {
		f.Make, f.Model = g.Make, g.Model
	}
	if f.Taken.IsZero() {
		f.Taken, f.ZoneKnown = g.Taken, g.ZoneKnown
	}
	if f.Flash == nil {
		f.Flash = g.Flash
	}
	f.Orientation, f.ISO = cmp.Or(f.Orientation, g.Orientation), cmp.Or(f.ISO, g.ISO)
	f.Exposure, f.FNumber, f.Focal = cmp.Or(f.Exposure, g.Exposure), cmp.Or(f.FNumber, g.FNumber),
		cmp.Or(f.Focal, g.Focal)
}

// readHeader believes the bytes; the ending of the file's name only tells a RAW file from a TIFF.
func readHeader(ext string, data []byte) (header, *fault) {
	if len(data) > MaxBytes {
		return header{}, fileTooLarge(int64(len(data)))
	}
	raw := rawKind(ext, data)
	switch {
	case raw != "":
		return walkRaw(raw, data)
	case len(data) == 0:
		return header{}, faultf("empty", "the file holds no bytes; copy it from the card again")
	case bytes.HasPrefix(data, []byte("\xff\xd8")):
		return walkJPEG(data)
	case bytes.HasPrefix(data, []byte(pngMagic)):
		return walkPNG(data)
	case hasTIFFMagic(data):
		return walkTIFF(data)
	}
	return header{}, otherKind(data)
}

// otherKind names the picture formats that are met in practice and not read.
func otherKind(data []byte) *fault {
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
			return notRead(k.name)
		}
	}
	switch brandOf(data) {
	case "":
		return faultf("not-a-picture",
			"the file does not begin like a picture of a kind that is read")
	case "heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1", "heif":
		return notRead("HEIF")
	case "avif", "avis":
		return notRead("AVIF")
	}
	return faultf("unsupported-format",
		"the file is a film, which is not read; export single pictures of it as JPEG, PNG or TIFF")
}
