package vision

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // its header reader
	"image/png"
	"io"

	"golang.org/x/image/tiff"

	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// maxPixels bounds what is decoded.
const maxPixels = 200e6

// maxGoPixels bounds what Go's own decoders are given: they hold up to eight bytes a pixel.
const maxGoPixels = 60e6

// reducedPitch is how many pixels a graduation must keep in a reduced picture.
const reducedPitch = 8

// reduction is the largest of 1, 2, 4 by which a picture can be reduced while it is decoded so that the
// graduations expected stay well resolved; 1 where none are expected.
func reduction(f frame.Frame, h ruler.Hint) int {
	denom := 1
	for denom < 4 && h.Pitch >= float64(2*denom)*reducedPitch && min(f.Width, f.Height) >= 256*denom {
		denom *= 2
	}
	return denom
}

// decode decodes a frame as displayed, in grey, at 1/denom of its size or, where its kind cannot be reduced
// while it is decoded, whole; and of a JPEG only about so many rows as it is stored. The header of the bytes that were listed has been
// checked by package frame; here it is held against the bounds of the decoders.
func (m *memory) decode(f frame.Frame, denom, rows int) (pyramid, error) {
	data, err := m.file(f)
	if err != nil {
		return pyramid{}, err
	}
	defer m.free(data)
	cfg, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return pyramid{}, fmt.Errorf("the picture's header cannot be read: %w", err)
	}
	if cfg.Width < 1 || cfg.Height < 1 || float64(cfg.Width)*float64(cfg.Height) > maxPixels {
		return pyramid{}, fmt.Errorf("a picture of %d x %d pixels is not decoded", cfg.Width, cfg.Height)
	}
	if format != "jpeg" && float64(cfg.Width)*float64(cfg.Height) > maxGoPixels {
		return pyramid{}, fmt.Errorf("a %s picture of %d x %d pixels is not decoded; save it as JPEG", format, cfg.Width, cfg.Height)
	}
	var g *gray
	w, h := cfg.Width, cfg.Height
	switch format {
	case "jpeg":
		h = min(h, rows)
		g, err = decodeJPEG(data, m.bytes(((w+denom-1)/denom)*((h+denom-1)/denom)), w, h, denom)
	case "png":
		denom = 1
		g, err = decodeGo(data, png.Decode)
	case "tiff":
		denom = 1
		g, err = decodeGo(data, tiff.Decode)
	default:
		return pyramid{}, fmt.Errorf("pictures of format %q are not decoded", format)
	}
	if err != nil {
		return pyramid{}, err
	}
	if turned := f.Orientation >= 5 && f.Orientation <= 8; turned {
		w, h = h, w
	}
	p := newPyramid(upright(g, f.Orientation), denom, w, h)
	p.wholeW, p.wholeH = f.Width, f.Height
	return p, nil
}

// decodeGo decodes with one of Go's own decoders, which cannot end the process.
func decodeGo(data []byte, decode func(io.Reader) (image.Image, error)) (*gray, error) {
	img, err := decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("decoding the picture: %w", err)
	}
	return grayOf(img), nil
}
