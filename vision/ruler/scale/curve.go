package scale

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// The lines of a dial stand along an arc. Followed along its chord, the shortest ones seem the longer,
// or the shorter, the further they are from the row's middle.

// Curved says whether the lines of a row stand along an arc, by the shortest of a match: a parabola
// through their lengths, by least squares, bends more than that of any ruler.
func (r *Lengths) Curved(m Match) bool {
	var x, y []float64
	for i, n := range r.n {
		if m.Class(n-m.Phase) == len(m.Classes) {
			x, y = append(x, float64(n-r.n[len(r.n)/2])), append(y, r.length[i])
		}
	}
	parabola := func(x float64) []float64 { return []float64{1, x, x * x / 2} }
	p := len(parabola(0))
	if len(x) <= p+1 {
		return false
	}
	a := mat.NewDense(len(x), p, nil)
	for i, v := range x {
		a.SetRow(i, parabola(v))
	}
	var qr mat.QR
	var c, fit mat.VecDense
	qr.Factorize(a)
	b := mat.NewVecDense(len(y), y)
	if qr.SolveVecTo(&c, false, b) != nil {
		return false
	}
	fit.MulVec(a, &c)
	fit.SubVec(b, &fit)
	var n, inv mat.Dense
	n.Mul(a.T(), a)
	if inv.Inverse(&n) != nil {
		return false
	}
	u := math.Sqrt(mat.Dot(&fit, &fit) / float64(len(x)-p) * inv.At(p-1, p-1))
	return math.Abs(c.AtVec(p-1))-plainlyBent*u > 1.0/leastRadius
}
