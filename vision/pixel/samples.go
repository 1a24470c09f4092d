package pixel

import "image"

// Samples returns a picture's samples as rows of grey values or of RGB triples.
func Samples(img image.Image) (pix []uint8, stride, channels int) {
	b := img.Bounds()
	if g, ok := img.(*image.Gray); ok {
		return g.Pix[g.PixOffset(b.Min.X, b.Min.Y):], g.Stride, 1
	}
	stride = 3 * b.Dx()
	pix = make([]uint8, stride*b.Dy()+1) // never empty
	for y := range b.Dy() {
		row := pix[y*stride:][:stride]
		if m, ok := img.(*image.RGBA); ok {
			src := m.Pix[m.PixOffset(b.Min.X, b.Min.Y+y):]
			for x := range b.Dx() {
				copy(row[3*x:3*x+3], src[4*x:])
			}
			continue
		}
		for x := range b.Dx() {
			r, g, b, _ := img.At(b.Min.X+x, b.Min.Y+y).RGBA()
			row[3*x], row[3*x+1], row[3*x+2] = uint8(r>>8), uint8(g>>8), uint8(b>>8)
		}
	}
	return pix, stride, 3
}
