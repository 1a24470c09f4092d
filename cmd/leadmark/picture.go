package main

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	_ "image/jpeg" // decoders that image.Decode finds
	_ "image/png"

	_ "golang.org/x/image/tiff"

	"leadmark/vision/frame"
)

// maxPicture bounds what is decoded for show, in pixels.
const maxPicture = 200e6

// loadPicture decodes a frame for show: as displayed, averaged over squares of whole pixels so
// that its long side comes near maxSide from above.
func loadPicture(ctx context.Context, f frame.Frame, maxSide int) (image.Image, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if float64(f.StoredWidth)*float64(f.StoredHeight) > maxPicture {
		return nil, fmt.Errorf("a picture of %d x %d pixels is not shown", f.StoredWidth, f.StoredHeight)
	}
	data, err := f.Read(nil)
	if err != nil {
		return nil, err
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("decoding %s: %w", f.Name, err)
	}
	b := img.Bounds()
	k := max(max(b.Dx(), b.Dy())/max(maxSide, 1), 1)
	return displayed(shrink(img, k), f.Orientation), nil
}

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

// displayed applies an orientation of Exif 2.3, table 6: where the stored row 0 and column 0 are
// seen on the picture as displayed.
func displayed(src *image.RGBA, orientation int) *image.RGBA {
	if orientation < 2 || orientation > 8 {
		return src
	}
	w, h := src.Rect.Dx(), src.Rect.Dy()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if orientation >= 5 {
		out = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			u, v := x, y
			switch orientation {
			case 2:
				u = w - 1 - x
			case 3:
				u, v = w-1-x, h-1-y
			case 4:
				v = h - 1 - y
			case 5:
				u, v = y, x
			case 6:
				u, v = h-1-y, x
			case 7:
				u, v = h-1-y, w-1-x
			case 8:
				u, v = y, w-1-x
			}
			out.SetRGBA(u, v, src.RGBAAt(x, y))
		}
	}
	return out
}
