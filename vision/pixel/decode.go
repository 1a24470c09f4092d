package pixel

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // its header reader
	"image/png"
	"io"

	"golang.org/x/image/tiff"

	"leadmark/vision/frame"
)

// Decode decodes a frame as displayed, in grey, at 1/denom of its size or, where its kind cannot be
// reduced while it is decoded, whole; and of a JPEG only about so many rows as it is stored. The
// header of the bytes that were listed has been checked by package frame; here it is held against
// the bounds of the decoders.
func (m *Decoder) Decode(f frame.Frame, denom, rows int) (Pyramid, error) {
	data, err := m.file(f)
	if err != nil {
		return Pyramid{}, err
	}
	defer m.Free(data)
	cfg, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return Pyramid{}, fmt.Errorf("the picture's header cannot be read: %w", err)
	}
	if cfg.Width < 1 || cfg.Height < 1 || float64(cfg.Width)*float64(cfg.Height) > maxPixels {
		return Pyramid{}, fmt.Errorf("a picture of %d x %d pixels is not decoded", cfg.Width, cfg.Height)
	}
	if format != "jpeg" && float64(cfg.Width)*float64(cfg.Height) > maxGoPixels {
		return Pyramid{}, fmt.Errorf("a %s picture of %d x %d pixels is not decoded; save it as JPEG", format,
			cfg.Width, cfg.Height)
	}
	var g *Gray
	w, h := cfg.Width, cfg.Height
	switch format {
	case "jpeg":
		h = min(h, rows)
		g, err = decodeJPEG(m.Library, data, m.bytes(((w+denom-1)/denom)*((h+denom-1)/denom)), w, h, denom)
	case "png":
		denom = 1
		g, err = decodeGo(data, png.Decode)
	case "tiff":
		denom = 1
		g, err = decodeGo(data, tiff.Decode)
	default:
		return Pyramid{}, fmt.Errorf("pictures of format %q are not decoded", format)
	}
	if err != nil {
		return Pyramid{}, err
	}
	if turned := f.Orientation >= 5 && f.Orientation <= 8; turned {
		w, h = h, w
	}
	p := NewPyramid(upright(m.Library, g, f.Orientation), denom, w, h)
	p.WholeW, p.WholeH = f.Width, f.Height
	return p, nil
}

// decodeGo decodes with one of Go's own decoders, which cannot end the process.
func decodeGo(data []byte, decode func(io.Reader) (image.Image, error)) (*Gray, error) {
	img, err := decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("decoding the picture: %w", err)
	}
	return GrayOf(img), nil
}

// decodeJPEG decodes at 1/denom of the size. w is the picture's width, as its header states it, and
// h the number of its rows that are wanted; pix takes them.
func decodeJPEG(l Library, data, pix []byte, w, h, denom int) (*Gray, error) {
	if len(data) == 0 || len(pix) == 0 || w < 1 || h < 1 {
		return nil, fmt.Errorf("the JPEG is empty")
	}
	g := &Gray{W: (w + denom - 1) / denom, H: (h + denom - 1) / denom, Pix: pix}
	u, err := l.DecodeJPEG(data, denom, 1, g.Pix, g.W, g.H)
	if err != nil {
		return nil, err
	}
	return g, rowsFit(g, u)
}
