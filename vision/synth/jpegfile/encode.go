package jpegfile

import (
	"bufio"
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"os"
)

// Write writes a picture as displayed to a file, stored as x.Orientation says, with EXIF.
func Write(path string, im *image.RGBA, x Exif, quality int) error {
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, stored(im, x.Orientation), &jpeg.Options{Quality: quality}); err != nil {
		return fmt.Errorf("encoding %s: %w", path, err)
	}
	f, err := os.Create(path)
	if err != nil {
		return fmt.Errorf("writing a frame: %w", err)
	}
	w := bufio.NewWriter(f)
	data := buf.Bytes() // begins with the start-of-image marker; APP1 comes right behind it
	w.Write(data[:2])
	w.Write(x.segment())
	w.Write(data[2:])
	if err := w.Flush(); err != nil {
		f.Close()
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return f.Close()
}

// stored turns a picture as displayed into the raster to be stored under an orientation tag.
// The tag says where the stored row 0 and column 0 lie in the picture as displayed (EXIF 2.32, tag
// 0x0112): 1 top left, 2 top right, 3 bottom right, 4 bottom left, 5 left top, 6 right top,
// 7 right bottom, 8 left bottom.
func stored(im *image.RGBA, orientation int) *image.RGBA {
	if orientation <= 1 || orientation > 8 {
		return im
	}
	w, h := im.Rect.Dx(), im.Rect.Dy()
	sw, sh := w, h
	if orientation >= 5 {
		sw, sh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, sw, sh))
	for y := range sh {
		for x := range sw {
			dx, dy := shown(x, y, w, h, orientation)
			copy(out.Pix[y*out.Stride+4*x:][:4], im.Pix[dy*im.Stride+4*dx:][:4])
		}
	}
	return out
}

// shown returns where the stored pixel (x, y) lies in the picture as displayed, of size w by h.
func shown(x, y, w, h, orientation int) (int, int) {
	if orientation >= 5 { // stored rows are columns of the picture
		x, y = y, x
	}
	switch orientation {
	case 2, 6:
		return w - 1 - x, y
	case 3, 7:
		return w - 1 - x, h - 1 - y
	case 4, 8:
		return x, h - 1 - y
	}
	return x, y
}
