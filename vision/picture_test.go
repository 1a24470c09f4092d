package vision

import (
	"crypto/sha256"
	"fmt"
	"image"
	"image/color"
	"math"
	"os"
	"testing"

	"leadmark/vision/frame"
	"leadmark/vision/frame/integrity"
	"leadmark/vision/pixel"
	"leadmark/vision/pixel/native"
)

// whole is a picture that was decoded whole.
func whole(g *pixel.Gray) pixel.Pyramid { return pixel.NewPyramid(g, 1, g.W, g.H) }

// grayOfFile decodes a file whole.
func grayOfFile(f frame.Frame) (*pixel.Gray, error) {
	p, err := (&pixel.Decoder{Library: native.Library{}}).Decode(f, 1, integrity.MaxSide)
	if err != nil {
		return nil, err
	}
	return p.Levels[0], nil
}

// listed is a file's frame with nothing known but its bytes, whatever they are.
func listed(t *testing.T, path string) frame.Frame {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return frame.Frame{Path: path, Size: int64(len(data)), Digest: fmt.Sprintf("%x", sha256.Sum256(data))}
}

// smooth is a picture of gentle tones, so that compression changes it little.
func smooth(w, h int) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetGray(x, y, color.Gray{Y: uint8(128 + 60*math.Sin(float64(x)/31) + 50*math.Cos(float64(y)/23))})
		}
	}
	return m
}

func encoded(t *testing.T, m image.Image) []byte {
	t.Helper()
	data, err := native.Library{}.EncodeJPEG(m, 95)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
