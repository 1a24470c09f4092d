package edge

import (
	"image"
	"math"

	"leadmark/vision/pixel"
)

// Patch is a part of the whole picture, with the set behind it in the same light.
type Patch struct {
	pic  *pixel.Colour
	at   image.Point   // of its first pixel in the whole picture
	back *pixel.Colour // the set, reduced
	k    int           // by so many times
	blur tensor        // that levelling put on it
}

// NewPatch is a patch whose first pixel lies at a place of the whole picture, before a set reduced
// by k. shared is how many pixels across and down share one colour difference in it, where it is
// levelled for that.
func NewPatch(pic *pixel.Colour, at image.Point, back *pixel.Colour, k int, shared image.Point) *Patch {
	return &Patch{pic: pic, at: at, back: back, k: k, blur: sharedBlur(shared)}
}

// Bounds are the pixels of the whole picture that it has.
func (p *Patch) Bounds() image.Rectangle {
	return image.Rectangle{Min: p.at, Max: p.at.Add(image.Pt(p.pic.W, p.pic.H))}
}

// Light is the picture's light at a pixel of the whole picture, by channel.
func (p *Patch) Light(x, y int) [3]float64 {
	q := p.pic.Pix[3*((y-p.at.Y)*p.pic.W+x-p.at.X):][:3]
	return [3]float64{pixel.Light(q[0]), pixel.Light(q[1]), pixel.Light(q[2])}
}

// Set is the light of the set behind a pixel of the whole picture, between the reduced set's pixels
// along straight lines.
func (p *Patch) Set(x, y int) (v [3]float64) {
	k := float64(p.k)
	u, w := (float64(x)+0.5)/k-0.5, (float64(y)+0.5)/k-0.5
	u, w = max(0, min(float64(p.back.W-1), u)), max(0, min(float64(p.back.H-1), w))
	i, j := min(int(u), max(0, p.back.W-2)), min(int(w), max(0, p.back.H-2))
	fu, fw := u-float64(i), w-float64(j)
	right, below := min(1, p.back.W-1-i), min(1, p.back.H-1-j)
	at := func(dx, dy int) []uint8 { return p.back.Pix[3*((j+dy)*p.back.W+i+dx):][:3] }
	a, b, c, d := at(0, 0), at(right, 0), at(0, below), at(right, below)
	for n := range v {
		v[n] = (pixel.Light(a[n])*(1-fu)+pixel.Light(b[n])*fu)*(1-fw) +
			(pixel.Light(c[n])*(1-fu)+pixel.Light(d[n])*fu)*fw
	}
	return v
}

// Differs is by how much the light at a pixel of the whole picture differs from the set's, by
// channel.
func (p *Patch) Differs(x, y int) [3]float64 {
	a, b := p.Light(x, y), p.Set(x, y)
	return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]}
}

// within are the pixels of the patch in a box about a place.
func (p *Patch) within(x, y, rx, ry float64) image.Rectangle {
	box := image.Rect(int(math.Ceil(x-rx)), int(math.Ceil(y-ry)), int(math.Floor(x+rx))+1, int(math.Floor(y+ry))+1)
	return box.Intersect(p.Bounds())
}
