package vision

import (
	"image"

	"leadmark/vision/animal"
)

// colour is a picture as displayed in sRGB tones, red, green and blue of each pixel after the other, row by row.
type colour struct {
	w, h int
	pix  []uint8
}

func newColour(w, h int) *colour { return &colour{w, h, make([]uint8, 3*w*h)} }

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

// reduced is the picture at 1/k of its size, each pixel the mean of k x k, fewer at the right and below.
func (c *colour) reduced(k int) *colour {
	if k <= 1 {
		return c
	}
	o := newColour((c.w+k-1)/k, (c.h+k-1)/k)
	sums := make([]uint32, 3*o.w)
	for y := range o.h {
		clear(sums)
		rows := min(k, c.h-y*k)
		for dy := range rows {
			row := c.pix[3*c.w*(y*k+dy):][:3*c.w]
			for x := range o.w {
				to := sums[3*x:][:3]
				for i := 3 * x * k; i < min(3*(x+1)*k, len(row)); i += 3 {
					to[0], to[1], to[2] = to[0]+uint32(row[i]), to[1]+uint32(row[i+1]), to[2]+uint32(row[i+2])
				}
			}
		}
		for i, s := range sums {
			n := uint32(rows * min(k, c.w-i/3*k))
			o.pix[3*o.w*y+i] = uint8((s + n/2) / n)
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
