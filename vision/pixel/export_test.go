package pixel

import (
	"image"

	"leadmark/vision/frame"
)

// What the tests outside need of the inside: they cannot stand within, since the library that they
// decode with imports this package.

func DecodeJPEG(l Library, data, pix []byte, w, h, denom int) (*Gray, error) {
	return decodeJPEG(l, data, pix, w, h, denom)
}

func Upright(l Library, g *Gray, orientation int) *Gray { return upright(l, g, orientation) }

// PhotoOf is a photo of a file's bytes.
func PhotoOf(d *Decoder, data []byte, orientation int) (*Photo, error) {
	p := &Photo{decoder: d, orientation: orientation}
	return p, p.decode(data)
}

func (p *Photo) HasPlanes() bool { return p.planes != nil }

func (p *Photo) Room(n int) []byte { return p.room(n) }

func (c *Colour) Part(r image.Rectangle) *Colour { return c.part(r) }

func (d *Decoder) File(f frame.Frame) ([]byte, error) { return d.file(f) }
