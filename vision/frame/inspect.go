package frame

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"path/filepath"
)

// Inspect looks through the bytes of one picture file and returns what they say, or why they cannot
// be used. name is only handed on. It never fails otherwise and never panics, whatever the bytes.
func Inspect(name string, data []byte) (Frame, *Refusal) {
	h, bad := check(filepath.Ext(name), data)
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
