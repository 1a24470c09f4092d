package frame

import (
	"encoding/binary"
	"path/filepath"
	"testing"

	"leadmark/vision/frame/integrity"

	"github.com/rwcarlsen/goexif/tiff"
)

// seeds are one good and several bad files of each kind; the fuzz targets start from them.
func seeds(t testing.TB) [][]byte {
	top, sub := usual(binary.LittleEndian)
	list := [][]byte{
		exifJPEG(t, exifBlock(binary.LittleEndian, top, sub)), plainPNG(t, 20, 10),
		tiffOf(24, 16, 24*16, top, sub), {}, []byte("GIF89a"),
	}
	for _, block := range hostile() {
		list = append(list, block, exifJPEG(t, block))
	}
	return list
}

// FuzzInspect: no file whatever makes it panic, hang or accept a picture beyond the bounds.
func FuzzInspect(f *testing.F) {
	list := seeds(f)
	if len(list) < 20 {
		f.Fatalf("only %d seeds", len(list))
	}
	for _, s := range list {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		got, bad := Inspect("x", data)
		if bad != nil {
			if bad.None() {
				t.Errorf("a refusal without a reason: %+v", bad)
			}
			return
		}
		if got.Width <= 0 || got.Height <= 0 || got.Width*got.Height > integrity.MaxPixels ||
			got.Orientation < 1 || got.Orientation > 8 {
			t.Errorf("accepted %+v", got)
		}
		if got.Exposure < 0 || got.FNumber < 0 || got.Focal < 0 || got.ISO < 0 {
			t.Errorf("made-up value: %+v", got)
		}
	})
}

// FuzzExifFields: what is handed to the EXIF library is small, and it decodes each field without an
// error.
func FuzzExifFields(f *testing.F) {
	for _, o := range orders() {
		top, sub := usual(o)
		f.Add(exifBlock(o, top, sub))
	}
	for _, block := range hostile() {
		f.Add(block)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		fields, _, wrong := integrity.ExifFields(data)
		if !wrong.None() {
			return
		}
		x := exif(fields)
		for tag := range fields {
			v := x.value(tag, tiff.IntVal, tiff.FloatVal, tiff.RatVal, tiff.StringVal, tiff.UndefVal, tiff.OtherVal)
			if v == nil || len(v.Val) > 1024 {
				t.Fatalf("the library does not decode what was kept of tag 0x%04X: %v", tag, v)
			}
		}
	})
}

// FuzzRaw: no container of a RAW file makes it panic, hang, or find a picture that does not lie in
// the file.
func FuzzRaw(f *testing.F) {
	endings := []string{".cr2", ".cr3", ".nef", ".arw", ".dng", ".raf", ".orf", ".rw2", ".pef",
		".jpg"}
	jpg := sizedJPEG(f, 1008, 8)
	f.Add(byte(2), chained([][]byte{jpg}))
	f.Add(byte(6), orf(jpg))
	for _, s := range rawSamples(f) {
		for i, ending := range endings {
			if ending == filepath.Ext(s.name) && len(s.data) < 60_000 {
				f.Add(byte(i), s.data)
			}
		}
	}
	f.Fuzz(func(t *testing.T, ending byte, data []byte) {
		got, bad := Inspect("x"+endings[int(ending)%len(endings)], data)
		switch {
		case bad != nil && bad.None():
			t.Errorf("a refusal without a reason: %+v", bad)
		case bad == nil && got.Raw != "" && (got.PictureAt <= 0 || got.PictureBytes <= 0 ||
			got.PictureAt+got.PictureBytes > int64(len(data)) || max(got.Width, got.Height) < 1000):
			t.Errorf("%+v in %d bytes", got, len(data))
		}
	})
}
