package runs

import "math"

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
	Colour RGB     // of a plain backdrop or a card
	Behind float64 // m behind the trip point
	Scale  float64 // px, size of its features; 0 for a fitting one
}

// at returns the backdrop's colour at a place of the picture.
func (b Backdrop) at(x, y float64, seed uint32) RGB {
	s := b.Scale
	if s == 0 {
		s = 1
	}
	x, y = x/s, y/s
	switch b.Kind {
	case Cloth:
		weave := math.Sin(x*1.9)*math.Sin(y*1.9) + 0.6*noise(x/1.3, y/1.3, seed)
		fold := cloud(x/700, y/500, 2, seed+1)
		return RGB{0.021, 0.021, 0.025}.mul(1 + 0.25*weave + 0.45*fold)
	case Foliage:
		return leaves(x, y, seed)
	case Planks:
		return planks(x, y, seed)
	case Soil:
		lump := cloud(x/90, y/90, 5, seed)
		stone := max(0, min(1, 6*(cloud(x/31, y/31, 2, seed+5)-0.78)))
		return mix(RGB{0.085, 0.055, 0.035}.mul(max(0.15, 1+0.75*lump)), RGB{0.24, 0.215, 0.18}, 0.8*stone)
	}
	c := b.Colour
	if c == (RGB{}) {
		c = Grey(0.18)
	}
	return c.mul(1 + 0.02*cloud(x/400, y/400, 3, seed))
}

// leaves is foliage far out of focus: each gleam a soft disk, as a lens shows it, over blotches of
// green.
func leaves(x, y float64, seed uint32) RGB {
	a := 0.5 + 0.5*cloud(x/420+0.4*noise(x/300, y/260, seed+8), y/380, 3, seed)
	c := mix(RGB{0.008, 0.022, 0.009}, RGB{0.085, 0.16, 0.035}, a*a)
	for size, k := 260.0, uint32(0); k < 3; size, k = size*0.62, k+1 {
		c = c.add(gleams(x, y, size, seed+40*k))
	}
	return c
}

// gleams lays one disk of light, or none, in each cell of a grid.
func gleams(x, y, size float64, seed uint32) RGB {
	sum := RGB{}
	cx, cy := int32(math.Floor(x/size)), int32(math.Floor(y/size))
	for j := cy - 1; j <= cy+1; j++ {
		for i := cx - 1; i <= cx+1; i++ {
			if hash(i, j, seed) > 0.45 {
				continue
			}
			dx := x/size - float64(i) - hash(i, j, seed+1)
			dy := y/size - float64(j) - hash(i, j, seed+2)
			r := 0.3 + 0.4*hash(i, j, seed+3)
			edge := max(0, min(1, (r-math.Sqrt(dx*dx+dy*dy))/0.12))
			if edge > 0 {
				g := 0.07 * hash(i, j, seed+4) * edge * edge * (3 - 2*edge)
				sum = sum.add(RGB{g * (0.4 + 0.6*hash(i, j, seed+5)), g, g * 0.25})
			}
		}
	}
	return sum
}

// planks is a wall of weathered boards.
func planks(x, y float64, seed uint32) RGB {
	board := math.Floor(y / 620)
	in := y - board*620
	hue := 0.8 + 0.4*hash(int32(board), 3, seed)
	bend := 40 * noise(x/600, y/200, seed+1)
	grain := noise(x/900, (y+bend)/14, seed+2) + 0.5*noise(x/160, y/4, seed+3)
	k := hue * (1 + 0.22*grain)
	if gap := min(in, 620-in); gap < 7 {
		k *= 0.25 + 0.75*gap/7
	}
	return RGB{0.26, 0.17, 0.095}.mul(max(0.05, k))
}
