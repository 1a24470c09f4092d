package texture

import "math"

// side of a grain's table.
const side = 256

// Grain is smooth noise: even values from -1 to 1 on a lattice, and cubics between. The zero Grain
// is even.
type Grain struct{ v []float32 }

// NewGrain draws one.
func NewGrain(l Lot) Grain {
	g := Grain{make([]float32, side*side)}
	for i := range g.v {
		g.v[i] = 2*l.Float32() - 1
	}
	return g
}

// At is the noise at a place.
func (g Grain) At(x, y float64) float64 {
	if len(g.v) == 0 {
		return 0
	}
	fx, fy := math.Floor(x), math.Floor(y)
	tx, ty := ease(x-fx), ease(y-fy)
	i, k := int(fx)&(side-1), int(fy)&(side-1)
	i1, k1 := (i+1)&(side-1), (k+1)&(side-1)
	a, b := float64(g.v[k*side+i]), float64(g.v[k*side+i1])
	c, d := float64(g.v[k1*side+i]), float64(g.v[k1*side+i1])
	a, c = a+tx*(b-a), c+tx*(d-c)
	return a + ty*(c-a)
}

// Cell is one value for each cell of the lattice.
func (g Grain) Cell(i, k int) float64 { return float64(g.v[(k&(side-1))*side+i&(side-1)]) }

// Cloud is noise of several sizes.
func (g Grain) Cloud(x, y float64) float64 {
	return 0.55*g.At(x, y) + 0.3*g.At(2.1*x+17, 2.1*y+5) + 0.15*g.At(4.3*x+3, 4.3*y+41)
}

// Edge goes from 0 to 1 where v passes at, over so wide a way.
func Edge(v, at, wide float64) float64 { return ease(min(1, max(0, (v-at)/wide+0.5))) }

// Bar is 1 between two places.
func Bar(v, from, to, wide float64) float64 { return Edge(v, from, wide) - Edge(v, to, wide) }

func ease(t float64) float64 { return t * t * (3 - 2*t) }

// wave is how far v lies in its period, 0 to 1, and in which.
func wave(v float64) (part float64, n int) {
	f := math.Floor(v)
	return v - f, int(f)
}
