package vision

import (
	"bytes"
	"fmt"
	"image"
	"image/png"

	"golang.org/x/image/tiff"

	"leadmark/animal"
	"leadmark/frame"
)

// maxColourPixels bounds what is decoded in colour, three bytes a pixel.
const maxColourPixels = 100e6

// colour is a picture as displayed in sRGB tones, red, green and blue of each pixel after the other, row by row.
type colour struct {
	w, h int
	pix  []uint8
}

func newColour(w, h int) *colour { return &colour{w, h, make([]uint8, 3*w*h)} }

// decodeColour decodes a frame as displayed, whole.
func (m *memory) decodeColour(f frame.Frame) (*colour, error) {
	data, err := m.file(f.Path, frame.MaxBytes)
	if err != nil {
		return nil, fmt.Errorf("reading the picture: %w", err)
	}
	defer m.free(data)
	cfg, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the picture's header cannot be read: %w", err)
	}
	n := float64(cfg.Width) * float64(cfg.Height)
	if cfg.Width < 1 || cfg.Height < 1 || n > maxColourPixels || format != "jpeg" && n > maxGoPixels {
		return nil, fmt.Errorf("a %s picture of %d x %d pixels is not decoded in colour", format, cfg.Width, cfg.Height)
	}
	var img image.Image
	switch format {
	case "jpeg":
		c := &colour{cfg.Width, cfg.Height, m.bytes(3 * cfg.Width * cfg.Height)}
		if err := runJPEG(data, 1, 3, c.pix, c.w, c.h); err != nil {
			return nil, err
		}
		return c.upright(f.Orientation), nil
	case "png":
		img, err = png.Decode(bytes.NewReader(data))
	case "tiff":
		img, err = tiff.Decode(bytes.NewReader(data))
	default:
		return nil, fmt.Errorf("pictures of format %q are not decoded", format)
	}
	if err != nil {
		return nil, fmt.Errorf("decoding the picture: %w", err)
	}
	return colourOf(img).upright(f.Orientation), nil
}

// colourOf takes the colours of any picture.
func colourOf(img image.Image) *colour {
	pix, stride, channels := rowsOf(img)
	b := img.Bounds()
	c := newColour(b.Dx(), b.Dy())
	for y := range c.h {
		to, row := c.pix[3*c.w*y:][:3*c.w], pix[y*stride:]
		if channels == 3 {
			copy(to, row)
			continue
		}
		for x := range c.w {
			to[3*x], to[3*x+1], to[3*x+2] = row[x], row[x], row[x]
		}
	}
	return c
}

// upright applies an EXIF orientation: each channel is turned like a grey picture.
func (c *colour) upright(orientation int) *colour {
	if orientation < 2 || orientation > 8 {
		return c
	}
	var out *colour
	for k := range 3 {
		g := newGray(c.w, c.h)
		for i := range g.pix {
			g.pix[i] = c.pix[3*i+k]
		}
		g = upright(g, orientation)
		if out == nil {
			out = newColour(g.w, g.h)
		}
		for i, v := range g.pix {
			out.pix[3*i+k] = v
		}
	}
	return out
}

// reduced is the picture at 1/k of its size, each pixel the mean of k x k; what is left over at the right and below is left away.
func (c *colour) reduced(k int) *colour {
	if k <= 1 {
		return c
	}
	o := newColour(c.w/k, c.h/k)
	sums := make([]uint32, 3*o.w)
	half := uint32(k*k) / 2
	for y := range o.h {
		clear(sums)
		for dy := range k {
			row := c.pix[3*c.w*(y*k+dy):]
			i := 0
			for x := 0; x < 3*o.w; x += 3 {
				for range k {
					sums[x], sums[x+1], sums[x+2] = sums[x]+uint32(row[i]), sums[x+1]+uint32(row[i+1]), sums[x+2]+uint32(row[i+2])
					i += 3
				}
			}
		}
		to := o.pix[3*o.w*y:]
		for i, s := range sums {
			to[i] = uint8((s + half) / uint32(k*k))
		}
	}
	return o
}

const (
	thumbSide    = 480 // px, about, of a small picture's longer side
	thumbQuality = 80
)

// thumb is a small picture of a picture that was already reduced by k. It is empty where it cannot be made: the sighting does not
// need it.
func (c *colour) thumb(k int) animal.Thumb {
	more := max(1, max(c.w, c.h)/thumbSide)
	t := c.reduced(more)
	if t.w < 1 || t.h < 1 {
		return animal.Thumb{}
	}
	img := image.NewRGBA(image.Rect(0, 0, t.w, t.h))
	for i := range t.w * t.h {
		copy(img.Pix[4*i:4*i+3], t.pix[3*i:3*i+3])
		img.Pix[4*i+3] = 255
	}
	data, err := EncodeJPEG(img, thumbQuality)
	if err != nil {
		return animal.Thumb{}
	}
	return animal.Thumb{Width: t.w, Height: t.h, Scale: float64(k * more), JPEG: data}
}
