package edge

import (
	"math"

	"leadmark/vision/animal"
)

// edgeWidth is the variance of an edge in a direction.
type edgeWidth struct {
	n        animal.Point
	variance float64 // px^2
}

// tensor is a variance by direction, n^T C n.
type tensor struct{ xx, xy, yy float64 }

// along is it in a direction.
func (c tensor) along(n animal.Point) float64 {
	return max(0, c.xx*n.X*n.X+2*c.xy*n.X*n.Y+c.yy*n.Y*n.Y)
}

func (c tensor) with(d tensor) tensor { return tensor{c.xx + d.xx, c.xy + d.xy, c.yy + d.yy} }

func (c tensor) without(d tensor) tensor { return tensor{c.xx - d.xx, c.xy - d.xy, c.yy - d.yy} }

// axis is the direction in which it is largest, and the standard deviations in that and across it.
func (c tensor) axis() (dir animal.Point, most, least float64) {
	mean, diff := (c.xx+c.yy)/2, math.Hypot((c.xx-c.yy)/2, c.xy)
	sin, cos := math.Sincos(math.Atan2(2*c.xy, c.xx-c.yy) / 2)
	const floor = leastSigma * leastSigma
	return animal.Point{X: cos, Y: sin}, math.Sqrt(max(floor, mean+diff)), math.Sqrt(max(floor, mean-diff))
}

// like says whether two agree.
func (c tensor) like(d tensor) bool {
	_, m, l := c.axis()
	_, n, k := d.axis()
	return math.Abs(m-n) < widthsAlike*n && math.Abs(l-k) < widthsAlike*k
}

// tensorOf fits variances by direction robustly: iterated least squares of the relative error with
// weights that fall off as its inverse, the median's way of not minding single places where the
// body's own pattern was taken for its edge.
func tensorOf(all []edgeWidth) tensor {
	var c tensor
	weight := make([]float64, len(all))
	for i, p := range all {
		weight[i] = 1 / (p.variance * p.variance)
	}
	for range tensorRounds {
		n := newNormal(3)
		for i, p := range all {
			n.add([edgeUnknowns]float64{p.n.X * p.n.X, 2 * p.n.X * p.n.Y, p.n.Y * p.n.Y}, p.variance, weight[i])
		}
		d, _, ok := n.solve()
		if !ok {
			break
		}
		c = tensor{d[0], d[1], d[2]}
		for i, p := range all {
			fit := max(leastSigma*leastSigma, c.along(p.n))
			weight[i] = 1 / (fit * fit * max(math.Abs(p.variance-fit)/fit, leastError))
		}
	}
	return c
}
