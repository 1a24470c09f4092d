package pixel

import (
	"image"
	"image/color"
)

// GrayOf takes the luminance of any picture (ITU-R BT.601 weights, as image/color uses them).
func GrayOf(img image.Image) *Gray {
	b := img.Bounds()
	g := NewGray(b.Dx(), b.Dy())
	if src, ok := img.(*image.Gray); ok {
		for y := 0; y < g.H; y++ {
			copy(g.Pix[y*g.W:][:g.W], src.Pix[y*src.Stride:])
		}
		return g
	}
	for y := 0; y < g.H; y++ {
		for x := 0; x < g.W; x++ {
			g.Pix[y*g.W+x] = color.GrayModel.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.Gray).Y
		}
	}
	return g
}

// upright applies an EXIF orientation (1 to 8, Exif 2.3 table 6) so that the picture is as
// displayed. A picture without pixels stays as it is.
func upright(l Library, g *Gray, orientation int) *Gray {
	var o *Gray
	switch orientation {
	case 2:
		o = l.Flip(g, LeftRight)
	case 3:
		o = l.Flip(g, Both)
	case 4:
		o = l.Flip(g, UpDown)
	case 5:
		o = l.Transpose(g)
	case 6:
		o = l.Rotate(g, true)
	case 7:
		if o = l.Flip(g, Both); o != nil {
			o = l.Transpose(o)
		}
	case 8:
		o = l.Rotate(g, false)
	}
	if o == nil {
		return g
	}
	return o
}

// upright applies an EXIF orientation: each channel is turned like a grey picture.
func (c *Colour) upright(l Library, orientation int) *Colour {
	if orientation < 2 || orientation > 8 {
		return c
	}
	var out *Colour
	for k := range 3 {
		g := NewGray(c.W, c.H)
		for i := range g.Pix {
			g.Pix[i] = c.Pix[3*i+k]
		}
		g = upright(l, g, orientation)
		if out == nil {
			out = NewColour(g.W, g.H)
		}
		for i, v := range g.Pix {
			out.Pix[3*i+k] = v
		}
	}
	return out
}
