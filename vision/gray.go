package vision

import "leadmark/vision/ruler"

// gray is one channel of a picture as displayed, row by row.
type gray struct {
	w, h int
	pix  []uint8
}

func newGray(w, h int) *gray { return &gray{w, h, make([]uint8, w*h)} }

// half returns the picture at half the size, each pixel the mean of four. A last odd row or
// column is left away.
func (g *gray) half() *gray {
	o := newGray(g.w/2, g.h/2)
	for y := 0; y < o.h; y++ {
		a := g.pix[2*y*g.w:][:g.w]
		b := g.pix[(2*y+1)*g.w:][:g.w]
		row := o.pix[y*o.w:][:o.w]
		for x := range row {
			row[x] = uint8((int(a[2*x]) + int(a[2*x+1]) + int(b[2*x]) + int(b[2*x+1]) + 2) / 4)
		}
	}
	return o
}

// at samples the picture between pixels by bilinear interpolation; ok is false outside.
func (g *gray) at(x, y float64) (v float64, ok bool) {
	if !(x >= 0 && y >= 0 && x <= float64(g.w-1) && y <= float64(g.h-1)) {
		return 0, false
	}
	x0, y0 := int(x), int(y)
	if x0 == g.w-1 && x0 > 0 {
		x0--
	}
	if y0 == g.h-1 && y0 > 0 {
		y0--
	}
	fx, fy := x-float64(x0), y-float64(y0)
	i := y0*g.w + x0
	dx, dy := 1, g.w
	if g.w == 1 {
		dx = 0
	}
	if g.h == 1 {
		dy = 0
	}
	a, b := float64(g.pix[i]), float64(g.pix[i+dx])
	c, d := float64(g.pix[i+dy]), float64(g.pix[i+dy+dx])
	return (a*(1-fx)+b*fx)*(1-fy) + (c*(1-fx)+d*fx)*fy, true
}

// pyramid is a picture and its successive halves. Its first level may itself be a reduced picture.
type pyramid struct {
	levels []*gray
	base   float64 // size of one pixel of the first level in pixels of the picture
	w, h   int     // of the picture, as far as it was decoded

	wholeW, wholeH int // of the whole picture
}

// newPyramid halves a picture, decoded at 1/base of its size w x h, until a pixel stands for 2^depth of
// the picture's or a side would fall below 64 px.
func newPyramid(g *gray, base, w, h int) pyramid {
	p := pyramid{levels: []*gray{g}, base: float64(base), w: w, h: h, wholeW: w, wholeH: h}
	for p.scale(len(p.levels)) <= coarsest && min(g.w, g.h) >= 128 {
		g = g.half()
		p.levels = append(p.levels, g)
	}
	return p
}

// scale is the size of one pixel of the level in pixels of the picture.
func (p pyramid) scale(level int) float64 { return p.base * float64(int(1)<<level) }

// last is the coarsest level and its scale.
func (p pyramid) last() (*gray, float64) {
	n := len(p.levels) - 1
	return p.levels[n], p.scale(n)
}

// full turns a place in a level into one in the picture; (0, 0) is the centre of the top-left
// pixel in both.
func full(x, y, scale float64) ruler.Point {
	return ruler.Point{X: (x+0.5)*scale - 0.5, Y: (y+0.5)*scale - 0.5}
}

// sample samples a level at a place given in pixels of the picture.
func (p pyramid) sample(level int, at ruler.Point) (float64, bool) {
	s := p.scale(level)
	return p.levels[level].at((at.X+0.5)/s-0.5, (at.Y+0.5)/s-0.5)
}
