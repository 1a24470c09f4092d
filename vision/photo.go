package vision

import (
	"bytes"
	"fmt"
	"image"
	"image/png"

	"golang.org/x/image/tiff"

	"leadmark/vision/frame"
)

// maxColourPixels bounds what is decoded in colour, three bytes a pixel.
const maxColourPixels = 100e6

// photo is a frame's picture in colour: reduced, or a part of it whole.
type photo struct {
	memory      *memory
	stored      image.Point // size as stored
	orientation int
	planes      *planes // of a JPEG of the usual kind
	whole       *colour // of any other, as displayed
}

// open reads a frame's file. The photo is closed after use.
func (m *memory) open(f frame.Frame) (*photo, error) {
	data, err := m.file(f)
	if err != nil {
		return nil, err
	}
	defer m.free(data)
	p := &photo{memory: m, orientation: f.Orientation}
	if err := p.decode(data); err != nil {
		p.close()
		return nil, err
	}
	return p, nil
}

// close gives the pixels' memory back.
func (p *photo) close() {
	if p.planes != nil {
		p.planes.free(p.memory)
	}
}

// decode decodes the file, once for all that is looked at in it.
func (p *photo) decode(data []byte) error {
	cfg, format, err := image.DecodeConfig(bytes.NewReader(data))
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
	p.whole = colourOf(img).upright(p.orientation)
	return nil
}

// decodeJPEG decodes a JPEG to its planes where it has such, else whole.
func (p *photo) decodeJPEG(data []byte) (err error) {
	if p.planes, err = planesOf(data, sceneScale(p.stored.X, p.stored.Y), p.memory); err != nil {
		return err // close frees what there is
	}
	if p.planes == nil {
		c := newColour(p.stored.X, p.stored.Y)
		if _, err := runJPEG(data, 1, 3, c.pix, c.w, c.h); err != nil {
			return err
		}
		p.whole = c.upright(p.orientation)
		return nil
	}
	if p.planes.size() != p.stored {
		return fmt.Errorf("the JPEG is of another size than its header states")
	}
	return nil
}

// size is the picture's, as displayed.
func (p *photo) size() image.Point {
	if p.turned() {
		return image.Pt(p.stored.Y, p.stored.X)
	}
	return p.stored
}

// small is the picture as small as animals are looked for in. It is gone when the photo is closed.
func (p *photo) small() *colour {
	k := sceneScale(p.stored.X, p.stored.Y)
	if p.whole != nil {
		return p.whole.reduced(k)
	}
	if k == 1 || p.orientation > 1 && (p.stored.X%k > 0 || p.stored.Y%k > 0) { // what is left over must lie at the right and below as displayed
		return p.planes.part(image.Rectangle{Max: p.stored}, false, p.memory).upright(p.orientation).reduced(k)
	}
	return p.planes.small.upright(p.orientation)
}

// part is a part of the picture, given as displayed, at full size. Where it is levelled, brightness is as little sharp as colours are. What lies
// outside the picture is an error. It is gone when the photo is closed.
func (p *photo) part(r image.Rectangle, level bool) (*colour, error) {
	if r.Empty() || !r.In(image.Rectangle{Max: p.size()}) {
		return nil, fmt.Errorf("the part %v lies outside the picture", r)
	}
	if p.whole != nil {
		return p.whole.part(r), nil
	}
	return p.planes.part(p.asStored(r), level, p.memory).upright(p.orientation), nil
}

// shared is how many pixels across and down share one colour difference, as displayed.
func (p *photo) shared() image.Point {
	if p.planes == nil {
		return image.Pt(1, 1)
	}
	if s := p.planes.shared(); p.turned() {
		return image.Pt(s.Y, s.X)
	}
	return p.planes.shared()
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
