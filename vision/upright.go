package vision

import (
	"image"
	"image/color"

	"gocv.io/x/gocv"
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

// upright applies an EXIF orientation (1 to 8, Exif 2.3 table 6) so that the picture is as displayed. A picture without
// pixels stays as it is.
func upright(g *gray, orientation int) *gray {
	const rows, columns, both = 0, 1, -1 // what OpenCV's flip exchanges: up and down, left and right
	flip := func(code int) *gray {
		return g.turned(g.w, g.h, func(src gocv.Mat, dst *gocv.Mat) { gocv.Flip(src, dst, code) })
	}
	rotate := func(code gocv.RotateFlag) *gray {
		return g.turned(g.h, g.w, func(src gocv.Mat, dst *gocv.Mat) { gocv.Rotate(src, dst, code) })
	}
	transpose := func(g *gray) *gray {
		return g.turned(g.h, g.w, func(src gocv.Mat, dst *gocv.Mat) { gocv.Transpose(src, dst) })
	}
	var o *gray
	switch orientation {
	case 2:
		o = flip(columns)
	case 3:
		o = flip(both)
	case 4:
		o = flip(rows)
	case 5:
		o = transpose(g)
	case 6:
		o = rotate(gocv.Rotate90Clockwise)
	case 7:
		if o = flip(both); o != nil {
			o = transpose(o)
		}
	case 8:
		o = rotate(gocv.Rotate90CounterClockwise)
	}
	if o == nil {
		return g
	}
	return o
}
