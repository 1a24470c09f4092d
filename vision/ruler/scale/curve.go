package scale

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// The lines of a dial stand along an arc. Followed along its chord, the shortest ones seem the longer,
// or the shorter, the further they are from the row's middle.

const (
	leastRadius = 200 // pitches: dials have 15 to 70, rulers under a lens that bends them thousands
	plainlyBent = 2.0 // standard uncertainties
)

// Curved says whether the lines of a row stand along an arc, by the shortest of a match: a parabola
// through their lengths, by least squares, bends more than that of any ruler.
func (r *Lengths) Curved(m Match) bool {
	var x, y []float64
	for i, n := range r.n {
		if m.Class(n-m.Phase) == len(m.Classes) {
			x, y = append(x, float64(n-r.n[len(r.n)/2])), append(y, r.length[i])
		}
	}
	const unknowns = 3
	if len(x) <= unknowns+1 {
		return false
	}
	a := mat.NewDense(len(x), unknowns, nil)
	for i, v := range x {
		a.SetRow(i, []float64{1, v, v * v / 2})
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
	u := math.Sqrt(mat.Dot(&fit, &fit) / float64(len(x)-unknowns) * inv.At(unknowns-1, unknowns-1))
	return math.Abs(c.AtVec(unknowns-1))-plainlyBent*u > 1.0/leastRadius
}
