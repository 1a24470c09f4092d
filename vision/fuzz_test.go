package vision

import (
	"bytes"
	"context"
	"errors"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"golang.org/x/image/tiff"

	"leadmark/testdata"
	"leadmark/vision/animal"
	"leadmark/vision/frame"
	"leadmark/vision/pixel"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
	"leadmark/vision/subject"
	"leadmark/vision/synth/photo"
	"leadmark/vision/synth/studies"
)

// mostFuzzed bounds the pictures that are looked at while fuzzing, px: larger ones take long and
// show no more.
const mostFuzzed = 1 << 18

// mostMemory is what the whole process may use, bytes: the limit that docs/files.md states.
const mostMemory = 1 << 30

// picturesOf are small pictures of each kind.
func picturesOf(f *testing.F) [][]byte {
	im, _ := photo.Render(studies.At("small", 5, 1).Scene)
	small := smooth(160, 120)
	var tif, whole bytes.Buffer
	if err := tiff.Encode(&tif, small, &tiff.Options{Compression: tiff.Deflate}); err != nil {
		f.Fatal(err)
	}
	if err := jpeg.Encode(&whole, im, &jpeg.Options{Quality: 60}); err != nil {
		f.Fatal(err)
	}
	var grey bytes.Buffer
	if err := jpeg.Encode(&grey, small, nil); err != nil {
		f.Fatal(err)
	}
	var lossless bytes.Buffer
	if err := png.Encode(&lossless, small); err != nil {
		f.Fatal(err)
	}
	list := [][]byte{whole.Bytes(), grey.Bytes(), lossless.Bytes(), tif.Bytes()}
	found, _ := filepath.Glob(filepath.Join(testdata.GoSource(f, "image", "testdata"), "video-0*"))
	if len(found) == 0 {
		f.Fatal("the Go distribution has no test pictures")
	}
	for _, path := range found {
		data, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		list = append(list, data)
	}
	return list
}

// opened writes a picture to path and opens it as every command does; ok is false for one that is
// refused or large.
func opened(t *testing.T, path string, data []byte) (f frame.Frame, ok bool) {
	t.Helper()
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
	f, refused := frame.Open(path)
	return f, refused == nil && f.StoredWidth*f.StoredHeight <= mostFuzzed
}

// FuzzLook: no picture ends the process on its way from the file to the reading of a ruler, or
// takes more memory than is stated.
func FuzzLook(f *testing.F) {
	for _, data := range picturesOf(f) {
		f.Add(data, byte(0))
		f.Add(data, byte(7))
	}
	path := filepath.Join(f.TempDir(), "x.jpg")
	looker := NewLooker(native.Library{})
	f.Fuzz(func(t *testing.T, data []byte, how byte) {
		p, ok := opened(t, path, data)
		if !ok {
			return
		}
		h := ruler.Hint{Slates: how&1 != 0, Coarse: how&2 != 0}
		if how&4 != 0 {
			h.Pitch = 16
		}
		s, err := looker.Look(context.Background(), p, h)
		if err != nil {
			t.Fatal(err)
		}
		if s.Refusal.Code == "program-fault" {
			t.Error(s.Refusal)
		}
		if r := reading.Interpret(s, ruler.Spec{}); r.Status != ruler.StatusRead && r.Reason.Code == "" {
			t.Error("refused without a reason")
		}
		if _, err := NewLooker(native.Library{}).ReadSlate(context.Background(), p); err != nil {
			t.Error(err)
		}
		withinMemory(t)
	})
}

// FuzzFind: no picture ends the process on its way from the file to the animal in it.
func FuzzFind(f *testing.F) {
	for _, data := range picturesOf(f) {
		f.Add(data, data)
	}
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, set, data []byte) {
		empty, ok := opened(t, filepath.Join(dir, "empty.jpg"), set)
		if !ok {
			return
		}
		p, ok := opened(t, filepath.Join(dir, "x.jpg"), data)
		if !ok {
			return
		}
		l, err := subject.Learn(context.Background(), native.Library{}, nil, &empty)
		if err != nil {
			return
		}
		h := subject.Hint{Length: 40, Travel: animal.Point{X: 1}}
		if seen, err := l.Look(context.Background(), p, h); err != nil || seen.Refusal.Code == "program-fault" {
			t.Error(seen.Refusal, err)
		}
		if _, err := l.Cutout(context.Background(), p, h); errors.Is(err, pixel.ErrFault) {
			t.Error(err)
		}
		withinMemory(t)
	})
}

// withinMemory holds the most that the process ever used, C and C++ libraries included, against the
// limit.
func withinMemory(t *testing.T) {
	t.Helper()
	if peak := peakMemory(); peak > mostMemory {
		t.Errorf("%d MB were used", peak>>20)
	}
}
