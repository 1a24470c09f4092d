package pixel

import "leadmark/vision/ruler"

// Pyramid is a picture and its successive halves. Its first level may itself be a reduced picture.
type Pyramid struct {
	Levels []*Gray
	Base   float64 // size of one pixel of the first level in pixels of the picture
	W, H   int     // of the picture, as far as it was decoded

	WholeW, WholeH int // of the whole picture
}

// NewPyramid halves a picture, decoded at 1/base of its size w x h, until a pixel stands for
// 2^depth of the picture's or a side would fall below 64 px.
func NewPyramid(g *Gray, base, w, h int) Pyramid {
	p := Pyramid{Levels: []*Gray{g}, Base: float64(base), W: w, H: h, WholeW: w, WholeH: h}
	for p.Scale(len(p.Levels)) <= coarsest && min(g.W, g.H) >= shortestSide {
		g = g.Half()
		p.Levels = append(p.Levels, g)
	}
	return p
}

// Scale is the size of one pixel of the level in pixels of the picture.
func (p Pyramid) Scale(level int) float64 { return p.Base * float64(int(1)<<level) }

// Small is the coarsest level in which the scene still shows, and its scale.
func (p Pyramid) Small() (*Gray, float64) {
	n := len(p.Levels) - 1
	for n > 0 && p.Scale(n) > sceneLevel {
		n--
	}
	return p.Levels[n], p.Scale(n)
}

// Full turns a place in a level into one in the picture; (0, 0) is the centre of the top-left
// pixel in both.
func Full(x, y, scale float64) ruler.Point {
	return ruler.Point{X: (x+0.5)*scale - 0.5, Y: (y+0.5)*scale - 0.5}
}

// Sample samples a level at a place given in pixels of the picture.
func (p Pyramid) Sample(level int, at ruler.Point) (float64, bool) {
	s := p.Scale(level)
	return p.Levels[level].At((at.X+0.5)/s-0.5, (at.Y+0.5)/s-0.5)
}
