package pixel

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"

	"golang.org/x/image/tiff"

	"leadmark/vision/frame"
)

// Photo is a frame's picture in colour: reduced, or a part of it whole.
type Photo struct {
	decoder     *Decoder
	stored      image.Point // size as stored
	orientation int
	planes      Planes   // of a JPEG of the usual kind
	whole       *Colour  // of any other, as displayed
	lent        [][]byte // memory, given back in the end
}

// Open reads a frame's file. The photo is closed after use.
func (m *Decoder) Open(f frame.Frame) (*Photo, error) {
	data, err := m.file(f)
	if err != nil {
		return nil, err
	}
	defer m.Free(data)
	p := &Photo{decoder: m, orientation: f.Orientation}
	if err := p.decode(data); err != nil {
		p.Close()
		return nil, err
	}
	return p, nil
}

// Close gives the pixels' memory back.
func (p *Photo) Close() {
	for _, b := range p.lent {
		p.decoder.Free(b)
	}
}

// room lends memory until the photo is closed.
func (p *Photo) room(n int) []byte {
	b := p.decoder.bytes(n)
	p.lent = append(p.lent, b)
	return b
}

// decode decodes the file, once for all that is looked at in it.
func (p *Photo) decode(data []byte) error {
	cfg, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return fmt.Errorf("the picture's header cannot be read: %w", err)
	}
	p.stored = image.Pt(cfg.Width, cfg.Height)
	n := float64(cfg.Width) * float64(cfg.Height)
	if cfg.Width < 1 || cfg.Height < 1 || n > MaxColourPixels || format != "jpeg" && n > maxGoPixels {
		return fmt.Errorf("a %s picture of %d x %d pixels is not decoded in colour", format, cfg.Width, cfg.Height)
	}
	var img image.Image
	switch format {
	case "jpeg":
		return p.decodeJPEG(data)
	case "png":
		img, err = png.Decode(bytes.NewReader(data))
	case "tiff":
		img, err = tiff.Decode(bytes.NewReader(data))
	default:
		return fmt.Errorf("pictures of format %q are not decoded", format)
	}
	if err != nil {
		return fmt.Errorf("decoding the picture: %w", err)
	}
	p.whole = ColourOf(img).upright(p.decoder.Library, p.orientation)
	return nil
}

// decodeJPEG decodes a JPEG to its planes where it has such, else whole.
func (p *Photo) decodeJPEG(data []byte) (err error) {
	p.planes, err = p.decoder.Library.DecodePlanes(data, FindingScale(p.stored.X, p.stored.Y), p.room)
	if err != nil {
		return err
	}
	if p.planes == nil {
		c := NewColour(p.stored.X, p.stored.Y)
		if _, err := p.decoder.Library.DecodeJPEG(data, 1, 3, c.Pix, c.W, c.H); err != nil {
			return err
		}
		p.whole = c.upright(p.decoder.Library, p.orientation)
		return nil
	}
	if err := rowsFit(p.planes.Bright()); err != nil {
		return err
	}
	if p.planes.Size() != p.stored {
		return fmt.Errorf("the JPEG is of another size than its header states")
	}
	return nil
}

// Size is the picture's, as displayed.
func (p *Photo) Size() image.Point {
	if p.turned() {
		return image.Pt(p.stored.Y, p.stored.X)
	}
	return p.stored
}

// Small is the picture as small as animals are looked for in. It is gone when the photo is closed.
func (p *Photo) Small() *Colour {
	k := FindingScale(p.stored.X, p.stored.Y)
	if p.whole != nil {
		return p.whole.Reduced(k)
	}
	// What is left over must lie at the right and below as displayed.
	if k == 1 || p.orientation > 1 && (p.stored.X%k > 0 || p.stored.Y%k > 0) {
		whole := p.planes.Part(image.Rectangle{Max: p.stored}, false, p.room)
		return whole.upright(p.decoder.Library, p.orientation).Reduced(k)
	}
	return p.planes.Small().upright(p.decoder.Library, p.orientation)
}

// Part is a part of the picture, given as displayed, at full size. Where it is levelled, brightness
// is as little sharp as colours are. What lies outside the picture is an error. It is gone when the
// photo is closed.
func (p *Photo) Part(r image.Rectangle, level bool) (*Colour, error) {
	if r.Empty() || !r.In(image.Rectangle{Max: p.Size()}) {
		return nil, fmt.Errorf("the part %v lies outside the picture", r)
	}
	if p.whole != nil {
		return p.whole.part(r), nil
	}
	return p.planes.Part(p.asStored(r), level, p.room).upright(p.decoder.Library, p.orientation), nil
}

// Shared is how many pixels across and down share one colour difference, as displayed.
func (p *Photo) Shared() image.Point {
	if p.planes == nil {
		return image.Pt(1, 1)
	}
	if s := p.planes.Shared(); p.turned() {
		return image.Pt(s.Y, s.X)
	}
	return p.planes.Shared()
}

// turned says whether rows and columns change places when the picture is displayed.
func (p *Photo) turned() bool { return p.orientation >= 5 && p.orientation <= 8 }

// asStored turns a part of the picture as displayed into that of the file (Exif 2.3, table 6).
func (p *Photo) asStored(r image.Rectangle) image.Rectangle {
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
func (c *Colour) part(r image.Rectangle) *Colour {
	o := NewColour(r.Dx(), r.Dy())
	for y := range o.H {
		copy(o.Pix[3*o.W*y:][:3*o.W], c.Pix[3*(c.W*(r.Min.Y+y)+r.Min.X):])
	}
	return o
}

// FindingScale is by how much a picture is reduced for finding: a power of two that a JPEG can be
// decoded at.
func FindingScale(w, h int) int {
	k := 1
	for k < 8 && float64(max(w, h)) > math.Sqrt2*float64(k*findingSide) {
		k *= 2
	}
	return k
}
