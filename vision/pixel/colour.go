package pixel

import "image"

// Colour is a picture as displayed in sRGB tones, red, green and blue of each pixel after the
// other, row by row.
type Colour struct {
	W, H int
	Pix  []uint8
}

// NewColour is a black picture.
func NewColour(w, h int) *Colour { return &Colour{w, h, make([]uint8, 3*w*h)} }

// ColourOf takes the colours of any picture.
func ColourOf(img image.Image) *Colour {
	pix, stride, channels := Samples(img)
	b := img.Bounds()
	c := NewColour(b.Dx(), b.Dy())
	for y := range c.H {
		to, row := c.Pix[3*c.W*y:][:3*c.W], pix[y*stride:]
		if channels == 3 {
			copy(to, row)
			continue
		}
		for x := range c.W {
			to[3*x], to[3*x+1], to[3*x+2] = row[x], row[x], row[x]
		}
	}
	return c
}

// Reduced is the picture at 1/k of its size, each pixel the mean of k x k, fewer at the right and
// below.
func (c *Colour) Reduced(k int) *Colour {
	if k <= 1 {
		return c
	}
	o := NewColour((c.W+k-1)/k, (c.H+k-1)/k)
	sums := make([]uint32, 3*o.W)
	for y := range o.H {
		clear(sums)
		rows := min(k, c.H-y*k)
		for dy := range rows {
			row := c.Pix[3*c.W*(y*k+dy):][:3*c.W]
			for x := range o.W {
				to := sums[3*x:][:3]
				for i := 3 * x * k; i < min(3*(x+1)*k, len(row)); i += 3 {
					to[0], to[1], to[2] = to[0]+uint32(row[i]), to[1]+uint32(row[i+1]), to[2]+uint32(row[i+2])
				}
			}
		}
		for i, s := range sums {
			n := uint32(rows * min(k, c.W-i/3*k))
			o.Pix[3*o.W*y+i] = uint8((s + n/2) / n)
		}
	}
	return o
}
