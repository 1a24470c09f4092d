package vision

import (
	"image"
	"image/color"
)

// grayOf takes the luminance of any picture (ITU-R BT.601 weights, as image/color uses them).
func grayOf(img image.Image) *gray {
	b := img.Bounds()
	g := newGray(b.Dx(), b.Dy())
	if src, ok := img.(*image.Gray); ok {
		for y := 0; y < g.h; y++ {
			copy(g.pix[y*g.w:][:g.w], src.Pix[y*src.Stride:])
		}
		return g
	}
	for y := 0; y < g.h; y++ {
		for x := 0; x < g.w; x++ {
			g.pix[y*g.w+x] = color.GrayModel.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.Gray).Y
		}
	}
	return g
}

// upright applies an EXIF orientation (1 to 8, Exif 2.3 table 6) so that the picture is as displayed.
func upright(g *gray, orientation int) *gray {
	if orientation < 2 || orientation > 8 {
		return g
	}
	w, h := g.w, g.h
	if orientation >= 5 {
		w, h = h, w
	}
	o := newGray(w, h)
	for y := 0; y < h; y++ {
		for x := 0; x < w; x++ {
			sx, sy := stored(x, y, g, orientation)
			o.pix[y*w+x] = g.pix[sy*g.w+sx]
		}
	}
	return o
}

// stored says where in the stored raster the displayed pixel (x, y) lies.
func stored(x, y int, g *gray, orientation int) (sx, sy int) {
	right, bottom := g.w-1, g.h-1
	switch orientation {
	case 2:
		return right - x, y
	case 3:
		return right - x, bottom - y
	case 4:
		return x, bottom - y
	case 5:
		return y, x
	case 6:
		return y, bottom - x
	case 7:
		return right - y, bottom - x
	case 8:
		return right - y, x
	}
	return x, y
}
