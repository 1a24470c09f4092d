package vision

import (
	"bytes"
	"fmt"
	"image"
	"image/png"

	"golang.org/x/image/tiff"

	"leadmark/frame"
)

// maxColourPixels bounds what is decoded in colour, three bytes a pixel.
const maxColourPixels = 100e6

// photo is a frame's file in memory, to be decoded in colour: reduced, or a part of it whole.
type photo struct {
	memory      *memory
	data        []byte
	stored      image.Point // size as stored
	orientation int
	whole       *colour // as displayed, of a kind that can only be decoded whole; nil of a JPEG
}

// open reads a frame's file. The photo is closed after use.
func (m *memory) open(f frame.Frame) (*photo, error) {
	data, err := m.file(f)
	if err != nil {
		return nil, fmt.Errorf("reading the picture: %w", err)
	}
	p := &photo{memory: m, data: data, orientation: f.Orientation}
	if err := p.start(); err != nil {
		p.close()
		return nil, err
	}
	return p, nil
}

func (p *photo) close() { p.memory.free(p.data) }

// start reads the header and decodes what can only be decoded whole.
func (p *photo) start() error {
	cfg, format, err := image.DecodeConfig(bytes.NewReader(p.data))
	if err != nil {
		return fmt.Errorf("the picture's header cannot be read: %w", err)
	}
	p.stored = image.Pt(cfg.Width, cfg.Height)
	n := float64(cfg.Width) * float64(cfg.Height)
	if cfg.Width < 1 || cfg.Height < 1 || n > maxColourPixels || format != "jpeg" && n > maxGoPixels {
		return fmt.Errorf("a %s picture of %d x %d pixels is not decoded in colour", format, cfg.Width, cfg.Height)
	}
	var img image.Image
	switch format {
	case "jpeg":
		return nil
	case "png":
		img, err = png.Decode(bytes.NewReader(p.data))
	case "tiff":
		img, err = tiff.Decode(bytes.NewReader(p.data))
	default:
		return fmt.Errorf("pictures of format %q are not decoded", format)
	}
	if err != nil {
		return fmt.Errorf("decoding the picture: %w", err)
	}
	p.whole = colourOf(img).upright(p.orientation)
	return nil
}

// size is the picture's, as displayed.
func (p *photo) size() image.Point {
	if p.turned() {
		return image.Pt(p.stored.Y, p.stored.X)
	}
	return p.stored
}

// reduced decodes the picture at 1/k of its size; k is 1, 2, 4 or 8.
func (p *photo) reduced(k int) (*colour, error) {
	if p.whole != nil {
		return p.whole.reduced(k), nil
	}
	if p.orientation > 1 && (p.stored.X%k > 0 || p.stored.Y%k > 0) { // what is left over must lie at the right and below as displayed
		c, err := p.reduced(1)
		if err != nil {
			return nil, err
		}
		return c.reduced(k), nil
	}
	c := newColour((p.stored.X+k-1)/k, (p.stored.Y+k-1)/k)
	if err := runJPEG(p.data, k, 3, c.pix, c.w, c.h); err != nil {
		return nil, err
	}
	return c.upright(p.orientation), nil
}

// part decodes a part of the picture, given as displayed, at full size, and tells how many pixels across and down share one colour
// difference.
func (p *photo) part(r image.Rectangle) (c *colour, shared image.Point, err error) {
	if p.whole != nil {
		return p.whole.part(r), image.Pt(1, 1), nil
	}
	r = p.asStored(r)
	c = newColour(r.Dx(), r.Dy())
	if shared, err = jpegPart(p.data, r, c.pix); err != nil {
		return nil, shared, err
	}
	if p.turned() {
		shared.X, shared.Y = shared.Y, shared.X
	}
	return c.upright(p.orientation), shared, nil
}

// turned says whether rows and columns change places when the picture is displayed.
func (p *photo) turned() bool { return p.orientation >= 5 && p.orientation <= 8 }

// asStored turns a part of the picture as displayed into that of the file (Exif 2.3, table 6).
func (p *photo) asStored(r image.Rectangle) image.Rectangle {
	w, h := p.stored.X, p.stored.Y
	right, below := func(x int) int { return w - x }, func(y int) int { return h - y }
	a, b := r.Min, r.Max
	switch p.orientation {
	case 2:
		return image.Rect(right(a.X), a.Y, right(b.X), b.Y)
	case 3:
		return image.Rect(right(a.X), below(a.Y), right(b.X), below(b.Y))
	case 4:
		return image.Rect(a.X, below(a.Y), b.X, below(b.Y))
	case 5:
		return image.Rect(a.Y, a.X, b.Y, b.X)
	case 6:
		return image.Rect(a.Y, below(a.X), b.Y, below(b.X))
	case 7:
		return image.Rect(right(a.Y), below(a.X), right(b.Y), below(b.X))
	case 8:
		return image.Rect(right(a.Y), a.X, right(b.Y), b.X)
	}
	return r
}

// part copies a part of a picture.
func (c *colour) part(r image.Rectangle) *colour {
	o := newColour(r.Dx(), r.Dy())
	for y := range o.h {
		copy(o.pix[3*o.w*y:][:3*o.w], c.pix[3*(c.w*(r.Min.Y+y)+r.Min.X):])
	}
	return o
}
