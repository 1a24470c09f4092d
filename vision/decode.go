package vision

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // its header reader
	"image/png"
	"io"
	"os"

	"gocv.io/x/gocv"
	"golang.org/x/image/tiff"

	"leadmark/frame"
)

// maxPixels bounds what is decoded; well below OpenCV's own limit of 2^30, at which it would
// throw and end the process.
const maxPixels = 200e6

// maxGoPixels bounds what Go's own decoders are given: they hold up to eight bytes a pixel.
const maxGoPixels = 60e6

// decodeGray decodes a frame as displayed, in grey. The frame's header has been read and
// checked by package frame; it is checked again here because the file may have changed.
func decodeGray(f frame.Frame) (*gray, error) {
	data, err := os.ReadFile(f.Path)
	if err != nil {
		return nil, fmt.Errorf("reading the picture: %w", err)
	}
	cfg, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the picture's header cannot be read: %w", err)
	}
	if cfg.Width < 1 || cfg.Height < 1 || float64(cfg.Width)*float64(cfg.Height) > maxPixels {
		return nil, fmt.Errorf("a picture of %d x %d pixels is not decoded", cfg.Width, cfg.Height)
	}
	if format != "jpeg" && float64(cfg.Width)*float64(cfg.Height) > maxGoPixels {
		return nil, fmt.Errorf("a %s picture of %d x %d pixels is not decoded; save it as JPEG", format, cfg.Width, cfg.Height)
	}
	var g *gray
	switch format {
	case "jpeg":
		g, err = decodeJPEG(data, cfg.Width, cfg.Height)
	case "png":
		g, err = decodeGo(data, png.Decode)
	case "tiff":
		g, err = decodeGo(data, tiff.Decode)
	default:
		return nil, fmt.Errorf("pictures of format %q are not decoded", format)
	}
	if err != nil {
		return nil, err
	}
	return upright(g, f.Orientation), nil
}

// decodeJPEG decodes with libjpeg-turbo by way of OpenCV, four times as fast as image/jpeg.
func decodeJPEG(data []byte, w, h int) (*gray, error) {
	m, err := gocv.IMDecode(data, gocv.IMReadGrayScale|gocv.IMReadIgnoreOrientation)
	if err != nil {
		return nil, fmt.Errorf("decoding the JPEG: %w", err)
	}
	defer m.Close()
	if m.Empty() || m.Cols() != w || m.Rows() != h || m.Type() != gocv.MatTypeCV8U {
		return nil, fmt.Errorf("the JPEG cannot be decoded")
	}
	pix, err := m.DataPtrUint8()
	if err != nil {
		return nil, fmt.Errorf("decoding the JPEG: %w", err)
	}
	g := newGray(w, h)
	copy(g.pix, pix)
	return g, nil
}

// decodeGo decodes with one of Go's own decoders, which cannot end the process.
func decodeGo(data []byte, decode func(io.Reader) (image.Image, error)) (*gray, error) {
	img, err := decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("decoding the picture: %w", err)
	}
	return grayOf(img), nil
}
