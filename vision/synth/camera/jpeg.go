package camera

import (
	"image"
	"image/jpeg"
	"io"
)

// Thin is how the colours of a JPEG are thinned out.
type Thin string

// The usual ways: half as many colours each way, or half as many across.
const (
	Thin420 Thin = "4:2:0"
	Thin422 Thin = "4:2:2"
)

// Encode writes the picture as JPEG.
func (c Camera) Encode(w io.Writer, im *image.RGBA) error {
	return jpeg.Encode(w, im, &jpeg.Options{Quality: c.Quality})
}
