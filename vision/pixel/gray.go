package pixel

import "encoding/binary"

// Gray is one channel of a picture as displayed, row by row.
type Gray struct {
	W, H int
	Pix  []uint8
}

// NewGray is a black picture.
func NewGray(w, h int) *Gray { return &Gray{w, h, make([]uint8, w*h)} }

// Half returns the picture at half the size, each pixel the mean of four, a half rounded up. A last odd
// row or column is left away.
func (g *Gray) Half() *Gray {
	o := NewGray(g.W/2, g.H/2)
	for y := range o.H {
		halve(o.Pix[y*o.W:][:o.W], g.Pix[2*y*g.W:][:g.W], g.Pix[(2*y+1)*g.W:][:g.W])
	}
	return o
}

// halve takes the means of four pixels of two rows, four means at a time: in a word of eight pixels those
// of even and of odd place are added as numbers of 16 bits, side by side.
func halve(row, above, below []uint8) {
	const even, half = 0x00ff00ff00ff00ff, 0x0002000200020002
	x := 0
	for ; x+4 <= len(row); x += 4 {
		a, b := binary.LittleEndian.Uint64(above[2*x:]), binary.LittleEndian.Uint64(below[2*x:])
		v := (a&even + a>>8&even + b&even + b>>8&even + half) >> 2 & even
		v |= v >> 8
		binary.LittleEndian.PutUint32(row[x:], uint32(v&0xffff|v>>16&0xffff0000))
	}
	for ; x < len(row); x++ {
		row[x] = uint8((int(above[2*x]) + int(above[2*x+1]) + int(below[2*x]) + int(below[2*x+1]) + 2) / 4)
	}
}

// At samples the picture between pixels by bilinear interpolation; ok is false outside.
func (g *Gray) At(x, y float64) (v float64, ok bool) {
	if !(x >= 0 && y >= 0 && x <= float64(g.W-1) && y <= float64(g.H-1)) {
		return 0, false
	}
	x0, y0 := int(x), int(y)
	if x0 == g.W-1 && x0 > 0 {
		x0--
	}
	if y0 == g.H-1 && y0 > 0 {
		y0--
	}
	fx, fy := x-float64(x0), y-float64(y0)
	i := y0*g.W + x0
	dx, dy := 1, g.W
	if g.W == 1 {
		dx = 0
	}
	if g.H == 1 {
		dy = 0
	}
	a, b := float64(g.Pix[i]), float64(g.Pix[i+dx])
	c, d := float64(g.Pix[i+dy]), float64(g.Pix[i+dy+dx])
	return (a*(1-fx)+b*fx)*(1-fy) + (c*(1-fx)+d*fx)*fy, true
}
