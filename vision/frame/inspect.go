package frame

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"path/filepath"

	"leadmark/vision/frame/integrity"
)

// Inspect looks through the bytes of one picture file and returns what they say, or why they cannot
// be used. name is only handed on. It never fails otherwise and never panics, whatever the bytes.
func Inspect(name string, data []byte) (Frame, *Refusal) {
	h, bad := integrity.Check(filepath.Ext(name), data)
	if !bad.None() {
		return Frame{}, &Refusal{Name: name, Note: bad}
	}
	sum := sha256.Sum256(data)
	f := Frame{
		Name: name, Format: h.Format, Digest: hex.EncodeToString(sum[:]), Size: int64(len(data)),
		StoredWidth: h.Width, StoredHeight: h.Height, Raw: h.Raw, PictureAt: h.Place.At,
		PictureBytes: h.Place.Bytes,
	}
	for _, block := range h.Exif {
		complete(&f, block)
	}
	f.Orientation = max(f.Orientation, 1)
	f.Width, f.Height = h.Width, h.Height
	if f.Orientation >= 5 { // 5 to 8 turn by a quarter
		f.Width, f.Height = h.Height, h.Width
	}
	return f, nil
}

// complete fills in what f does not say yet from an EXIF block.
func complete(f *Frame, data []byte) {
	var g Frame
	doubt := readExif(data, &g)
	if f.Doubt.None() {
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
