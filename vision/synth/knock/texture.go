package knock

import (
	"math"
	"math/rand/v2"
)

// texture is a surface's tone, 0 to 1, on a grid of cells.
type texture struct {
	n    int     // cells a side
	cell float64 // m
	tone []float32
}

// weave is a texture of blotches of many sizes, the coarse ones the stronger, as of bark, cloth or
// leaves. Contrast is the standard deviation of its tone.
func weave(rnd *rand.Rand, side, cell, contrast float64) texture {
	t := texture{n: int(side / cell), cell: cell}
	t.tone = make([]float32, t.n*t.n)
	for size := 80; size >= 2; size /= 2 {
		grid, g := t.n/size+3, []float64(nil)
		for range grid * grid {
			g = append(g, rnd.NormFloat64())
		}
		weight := contrast * math.Pow(float64(size)/80, 0.6)
		for y := range t.n {
			for x := range t.n {
				t.tone[y*t.n+x] += float32(weight * joined(g, grid, float64(x)/float64(size), float64(y)/float64(size)))
			}
		}
	}
	return t
}

// joined is a smooth surface through the values of a grid.
func joined(g []float64, n int, x, y float64) float64 {
	i, j := int(x), int(y)
	ease := func(t float64) float64 { return t * t * (3 - 2*t) }
	fx, fy := ease(x-float64(i)), ease(y-float64(j))
	a := g[j*n+i]*(1-fx) + g[j*n+i+1]*fx
	b := g[(j+1)*n+i]*(1-fx) + g[(j+1)*n+i+1]*fx
	return a*(1-fy) + b*fy
}

// at is the tone at a place, (0, 0) the middle.
func (t texture) at(x, y float64) float64 {
	u, v := x/t.cell+float64(t.n)/2, y/t.cell+float64(t.n)/2
	u, v = math.Max(0, math.Min(float64(t.n)-1.001, u)), math.Max(0, math.Min(float64(t.n)-1.001, v))
	i, j := int(u), int(v)
	fx, fy := u-float64(i), v-float64(j)
	p := t.tone[j*t.n+i:]
	a := float64(p[0])*(1-fx) + float64(p[1])*fx
	b := float64(p[t.n])*(1-fx) + float64(p[t.n+1])*fx
	return 0.35 + a*(1-fy) + b*fy
}
