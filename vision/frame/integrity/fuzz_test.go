package integrity

import (
	"bytes"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"leadmark/testdata"
)

// FuzzJPEG: a whole JPEG that is accepted states a size that Go's own reader of headers finds too.
func FuzzJPEG(f *testing.F) {
	for _, at := range []int{24, 1008} {
		var b bytes.Buffer
		if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, at, 16)), nil); err != nil {
			f.Fatal(err)
		}
		f.Add(b.Bytes())
	}
	for _, name := range []string{"video-001.progressive.jpeg", "video-001.restart2.jpeg",
		"video-001.cmyk.jpeg", "video-005.gray.q50.2x2.jpeg"} {
		data, err := os.ReadFile(filepath.Join(testdata.GoSource(f, "image", "testdata"), name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		h, bad := Check(".jpg", append([]byte("\xff\xd8"), data[min(2, len(data)):]...))
		if !bad.None() {
			return
		}
		c, err := jpeg.DecodeConfig(bytes.NewReader(data))
		if err == nil && (c.Width != h.Width || c.Height != h.Height) {
			t.Errorf("%d x %d, Go's reader has %d x %d", h.Width, h.Height, c.Width, c.Height)
		}
	})
}
