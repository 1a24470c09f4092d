package rulertest

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
		stone := math.Max(0, noise(x/23, y/23, seed+5)-0.55) * 1.6
		return mix(RGB{0.085, 0.055, 0.035}.mul(math.Max(0.15, 1+0.75*lump)), RGB{0.3, 0.27, 0.23}, math.Min(1, stone))
	}
	c := b.Colour
	if c == (RGB{}) {
		c = grey(0.18)
	}
	return c.mul(1 + 0.02*cloud(x/400, y/400, 3, seed))
}

// leaves is foliage far out of focus: soft blotches of light and dark green.
func leaves(x, y float64, seed uint32) RGB {
	a := 0.5 + 0.5*cloud(x/330, y/300, 2, seed)
	b := 0.5 + 0.5*noise(x/170, y/210, seed+3)
	c := mix(RGB{0.012, 0.03, 0.012}, RGB{0.11, 0.2, 0.045}, a*a)
	return mix(c, RGB{0.28, 0.3, 0.1}, 0.5*math.Pow(b, 4))
}

// planks is a wall of weathered boards.
func planks(x, y float64, seed uint32) RGB {
	board := math.Floor(y / 620)
	in := y - board*620
	hue := 0.8 + 0.4*hash(int32(board), 3, seed)
	bend := 40 * noise(x/600, y/200, seed+1)
	grain := noise(x/900, (y+bend)/14, seed+2) + 0.5*noise(x/160, y/4, seed+3)
	k := hue * (1 + 0.22*grain)
	if gap := math.Min(in, 620-in); gap < 7 {
		k *= 0.25 + 0.75*gap/7
	}
	return RGB{0.26, 0.17, 0.095}.mul(math.Max(0.05, k))
}
