package doubleflash

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// which of the two combs a part of the ruler is asked for.
const (
	first  = 1
	second = 2
)

// samplesOfLine is how many samples of one of the row's assumed pitches count as independent.
const samplesOfLine = 3

// evidence is by how much some of a fitted model's combs explain a part of the face better than no
// lines at all do: a log-likelihood, what its free strengths cost taken off (BIC).
func (m *model) evidence(f flatFace, which int) float64 {
	none, lines, few := m.compare(f, which)
	total := 0.0
	for j := range none {
		total += few/2*math.Log(none[j]/lines[j]) - float64(len(m.combs))/2*math.Log(max(few, 2))
	}
	return total
}

// explained is the share of the bands' usual power that the combs explain, summed over what counts
// as independent: unlike a log-likelihood it adds up over parts of a face.
func (m *model) explained(f flatFace, which int, power []float64) float64 {
	none, lines, few := m.compare(f, which)
	total := 0.0
	for j := range none {
		if j < len(power) {
			total += max(0, few*(none[j]-lines[j])/max(none[j], power[j])-float64(len(m.combs)))
		}
	}
	return total
}

// compare is the mean square that no lines, and that some of the combs, leave of each band, and the
// number of samples that count as independent. Nothing where the part is too short.
func (m *model) compare(f flatFace, which int) (none, lines []float64, few float64) {
	n, k := len(f.t), len(m.combs)
	if n < 4*(k+2) {
		return nil, nil, 0
	}
	h, flat := mat.NewDense(n, k+2, nil), mat.NewDense(n, 2, nil)
	shape, gain := m.p.shape(), math.Exp(m.p[pGain])
	for i, t := range f.t {
		u := m.index(m.p, t)
		for c, q := range m.combs {
			if which&first != 0 {
				h.Set(i, c, h.At(i, c)+q.at(u, shape))
			}
			if which&second != 0 {
				h.Set(i, c, h.At(i, c)+gain*q.at(u-m.p[pMoved], shape))
			}
		}
		for c, v := range []float64{1, (u - m.mid) / m.half} {
			h.Set(i, k+c, v)
			flat.Set(i, c, v)
		}
	}
	span := math.Abs(m.index(m.p, f.t[n-1]) - m.index(m.p, f.t[0]))
	return remains(flat, f.band), remains(h, f.band), samplesOfLine * span * m.stride
}

// remains is the mean square that a least-squares fit leaves of each band. Columns without any
// line are borne by a trace of ridge.
func remains(h *mat.Dense, bands [][]float64) []float64 {
	n, k := h.Dims()
	var normal mat.Dense
	normal.Mul(h.T(), h)
	sym := mat.NewSymDense(k, nil)
	for a := range k {
		for b := a; b < k; b++ {
			sym.SetSym(a, b, normal.At(a, b))
		}
		sym.SetSym(a, a, sym.At(a, a)+1e-9*float64(n))
	}
	out := make([]float64, len(bands))
	var c mat.Cholesky
	solvable := c.Factorize(sym)
	for j, b := range bands {
		y := mat.NewVecDense(n, b)
		var right, beta, fit mat.VecDense
		right.MulVec(h.T(), y)
		if !solvable || c.SolveVecTo(&beta, &right) != nil {
			out[j] = meanSquare(b) + 1e-9
			continue
		}
		fit.MulVec(h, &beta)
		sum := 0.0
		for i, v := range b {
			sum += (v - fit.AtVec(i)) * (v - fit.AtVec(i))
		}
		out[j] = sum/float64(n) + 1e-9
	}
	return out
}
