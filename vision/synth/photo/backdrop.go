package photo

import (
	"math"

	"leadmark/vision/synth/paint"
)

// BackdropKind is what lies behind the ruler.
type BackdropKind string

// The backdrops that can be drawn.
const (
	Cloth   BackdropKind = "dark cloth"
	Card    BackdropKind = "grey card"
	Foliage BackdropKind = "foliage"
	Planks  BackdropKind = "wood"
	Soil    BackdropKind = "soil"
	Plain   BackdropKind = "plain"
)

// Backdrop is a surface behind the ruler, square to the view.
type Backdrop struct {
	Kind   BackdropKind
	Colour paint.RGB // of a plain backdrop or a card
	Behind float64   // m behind the trip point
	Scale  float64   // px, size of its features; 0 for a fitting one
}

// at returns the backdrop's colour at a place of the picture.
func (b Backdrop) at(x, y float64, seed uint32) paint.RGB {
	s := b.Scale
	if s == 0 {
		s = 1
	}
	x, y = x/s, y/s
	switch b.Kind {
	case Cloth:
		weave := math.Sin(x*1.9)*math.Sin(y*1.9) + 0.6*paint.Noise(x/1.3, y/1.3, seed)
		fold := paint.Cloud(x/700, y/500, 2, seed+1)
		return paint.RGB{R: 0.021, G: 0.021, B: 0.025}.Mul(1 + 0.25*weave + 0.45*fold)
	case Foliage:
		return leaves(x, y, seed)
	case Planks:
		return planks(x, y, seed)
	case Soil:
		lump := paint.Cloud(x/90, y/90, 5, seed)
		stone := max(0, min(1, 6*(paint.Cloud(x/31, y/31, 2, seed+5)-0.78)))
		earth := paint.RGB{R: 0.085, G: 0.055, B: 0.035}.Mul(max(0.15, 1+0.75*lump))
		return paint.Mix(earth, paint.RGB{R: 0.24, G: 0.215, B: 0.18}, 0.8*stone)
	}
	c := b.Colour
	if c == (paint.RGB{}) {
		c = paint.Grey(0.18)
	}
	return c.Mul(1 + 0.02*paint.Cloud(x/400, y/400, 3, seed))
}

// leaves is foliage far out of focus: each gleam a soft disk, as a lens shows it, over blotches of
// green.
func leaves(x, y float64, seed uint32) paint.RGB {
	a := 0.5 + 0.5*paint.Cloud(x/420+0.4*paint.Noise(x/300, y/260, seed+8), y/380, 3, seed)
	c := paint.Mix(paint.RGB{R: 0.008, G: 0.022, B: 0.009}, paint.RGB{R: 0.085, G: 0.16, B: 0.035}, a*a)
	for size, k := 260.0, uint32(0); k < 3; size, k = size*0.62, k+1 {
		c = c.Add(gleams(x, y, size, seed+40*k))
	}
	return c
}

// gleams lays one disk of light, or none, in each cell of a grid.
func gleams(x, y, size float64, seed uint32) paint.RGB {
	sum := paint.RGB{}
	cx, cy := int32(math.Floor(x/size)), int32(math.Floor(y/size))
	for j := cy - 1; j <= cy+1; j++ {
		for i := cx - 1; i <= cx+1; i++ {
			if paint.Hash(i, j, seed) > 0.45 {
				continue
			}
			dx := x/size - float64(i) - paint.Hash(i, j, seed+1)
			dy := y/size - float64(j) - paint.Hash(i, j, seed+2)
			r := 0.3 + 0.4*paint.Hash(i, j, seed+3)
			edge := max(0, min(1, (r-math.Sqrt(dx*dx+dy*dy))/0.12))
			if edge > 0 {
				g := 0.07 * paint.Hash(i, j, seed+4) * edge * edge * (3 - 2*edge)
				sum = sum.Add(paint.RGB{R: g * (0.4 + 0.6*paint.Hash(i, j, seed+5)), G: g, B: g * 0.25})
			}
		}
	}
	return sum
}

// planks is a wall of weathered boards.
func planks(x, y float64, seed uint32) paint.RGB {
	board := math.Floor(y / 620)
	in := y - board*620
	hue := 0.8 + 0.4*paint.Hash(int32(board), 3, seed)
	bend := 40 * paint.Noise(x/600, y/200, seed+1)
	grain := paint.Noise(x/900, (y+bend)/14, seed+2) + 0.5*paint.Noise(x/160, y/4, seed+3)
	k := hue * (1 + 0.22*grain)
	if gap := min(in, 620-in); gap < 7 {
		k *= 0.25 + 0.75*gap/7
	}
	return paint.RGB{R: 0.26, G: 0.17, B: 0.095}.Mul(max(0.05, k))
}
