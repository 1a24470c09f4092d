package subject

import (
	"image"

	"leadmark/vision/animal"
	"leadmark/vision/pixel"
)

const (
	thumbSide    = 480 // px, about, of a small picture's longer side
	thumbQuality = 80
)

// thumb is a small picture of a picture that was already reduced by k. It is empty where it cannot
// be made: the sighting does not need it.
func thumb(l pixel.Library, c *pixel.Colour, k int) animal.Thumb {
	more := max(1, max(c.W, c.H)/thumbSide)
	t := c.Reduced(more)
	if t.W < 1 || t.H < 1 {
		return animal.Thumb{}
	}
	img := image.NewRGBA(image.Rect(0, 0, t.W, t.H))
	for i := range t.W * t.H {
		copy(img.Pix[4*i:4*i+3], t.Pix[3*i:3*i+3])
		img.Pix[4*i+3] = 255
	}
	data, err := l.EncodeJPEG(img, thumbQuality)
	if err != nil {
		return animal.Thumb{}
	}
	return animal.Thumb{Width: t.W, Height: t.H, Scale: float64(k * more), JPEG: data}
}
