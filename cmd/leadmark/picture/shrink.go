package picture

import (
	"image"
	"image/color"
)

// shrink averages squares of k x k pixels.
func shrink(img image.Image, k int) *image.RGBA {
	b := img.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, max(b.Dx()/k, 1), max(b.Dy()/k, 1)))
	luma, isYCbCr := img.(*image.YCbCr)
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			at := image.Pt(b.Min.X+x*k, b.Min.Y+y*k)
			if isYCbCr {
				out.SetRGBA(x, y, meanYCbCr(luma, at, k))
			} else {
				out.SetRGBA(x, y, meanColour(img, at, k))
			}
		}
	}
	return out
}

// meanYCbCr averages the luma; the colour, which is coarser in the file anyway, is taken from the
// middle.
func meanYCbCr(img *image.YCbCr, at image.Point, k int) color.RGBA {
	r := image.Rect(at.X, at.Y, at.X+k, at.Y+k).Intersect(img.Rect)
	sum := 0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := img.YOffset(r.Min.X, y)
		for _, v := range img.Y[row : row+r.Dx()] {
			sum += int(v)
		}
	}
	n := r.Dx() * r.Dy()
	c := img.COffset((r.Min.X+r.Max.X)/2, (r.Min.Y+r.Max.Y)/2)
	if mid := image.Pt((r.Min.X+r.Max.X)/2, (r.Min.Y+r.Max.Y)/2); !mid.In(img.Rect) {
		c = img.COffset(r.Min.X, r.Min.Y)
	}
	red, green, blue := color.YCbCrToRGB(uint8((sum+n/2)/n), img.Cb[c], img.Cr[c])
	return color.RGBA{red, green, blue, 255}
}

func meanColour(img image.Image, at image.Point, k int) color.RGBA {
	r := image.Rect(at.X, at.Y, at.X+k, at.Y+k).Intersect(img.Bounds())
	var sum [4]uint32
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			cr, cg, cb, ca := img.At(x, y).RGBA()
			sum[0], sum[1], sum[2], sum[3] = sum[0]+cr>>8, sum[1]+cg>>8, sum[2]+cb>>8, sum[3]+ca>>8
		}
	}
	n := uint32(r.Dx() * r.Dy())
	return color.RGBA{uint8(sum[0] / n), uint8(sum[1] / n), uint8(sum[2] / n), uint8(sum[3] / n)}
}
