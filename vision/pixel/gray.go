package pixel

// Gray is one channel of a picture as displayed, row by row.
type Gray struct {
	W, H int
	Pix  []uint8
}

// NewGray is a black picture.
func NewGray(w, h int) *Gray { return &Gray{w, h, make([]uint8, w*h)} }

// Half returns the picture at half the size, each pixel the mean of four. A last odd row or
// column is left away.
func (g *Gray) Half() *Gray {
	o := NewGray(g.W/2, g.H/2)
	for y := 0; y < o.H; y++ {
		a := g.Pix[2*y*g.W:][:g.W]
		b := g.Pix[(2*y+1)*g.W:][:g.W]
		row := o.Pix[y*o.W:][:o.W]
		for x := range row {
			row[x] = uint8((int(a[2*x]) + int(a[2*x+1]) + int(b[2*x]) + int(b[2*x+1]) + 2) / 4)
		}
	}
	return o
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
