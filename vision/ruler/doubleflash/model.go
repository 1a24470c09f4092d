package doubleflash

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"leadmark/vision/ruler/scale"
)

// mostMove is the furthest that the second flash shows the ruler from the first, graduations.
const mostMove = 60

// model is two superposed combs on one scale: line n of the first stands at index n, that of
// the second at n + d. Its parameters are a, b, c of the scale, d, and the logarithms of the
// blur's standard deviation, of the lines' width and of the second flash's gain.
type model struct {
	face      flatFace
	combs     []comb
	mid, half float64
	stride    float64 // of the row's assumed pitches to a graduation
	p         parameters
	prior     parameters // standard deviations; 0: free
	about     parameters // the priors' means
	variance  []float64  // of each band's residual
	cov       *mat.SymDense
}

const (
	pA, pB, pC, pMoved, pBlur, pLine, pGain = 0, 1, 2, 3, 4, 5, 6

	parameterCount = 7
)

type parameters [parameterCount]float64

// shape is how the lines look along the axis.
func (p parameters) shape() lineShape { return lineShape{math.Exp(p[pLine]), math.Exp(p[pBlur])} }

// newModel starts at what the coarse search found; u is the index of each sample there.
func newModel(f flatFace, combs []comb, u []float64, s start) (*model, bool) {
	m := &model{face: f, combs: combs}
	n := len(u)
	first, last := u[0]-s.x, u[n-1]-s.x
	m.mid, m.half = math.Round((first+last)/2), math.Abs(last-first)/2
	// t + c m t = a + b m, by least squares: the start's scale may be bent.
	normal, right := mat.NewSymDense(3, nil), mat.NewVecDense(3, nil)
	for i, x := range u {
		k, t := (x-s.x-m.mid)/m.half, f.t[i]
		row := [3]float64{1, k, -k * t}
		for r := range row {
			right.SetVec(r, right.AtVec(r)+row[r]*t)
			for q := r; q < 3; q++ {
				normal.SetSym(r, q, normal.At(r, q)+row[r]*row[q])
			}
		}
	}
	var abc mat.VecDense
	if abc.SolveVec(normal, right) != nil {
		return nil, false
	}
	m.p = parameters{abc.AtVec(0), abc.AtVec(1), abc.AtVec(2), s.d, math.Log(0.1), math.Log(usualLine),
		math.Log(s.gain)}
	m.about = m.p
	m.about[pC] = 0
	m.prior = parameters{pC: scale.Foreshortening, pBlur: 0.7, pLine: 0.4, pGain: 0.3}
	return m, true
}

// index is the place on the index scale of t.
func (m *model) index(p parameters, t float64) float64 {
	return m.mid + m.half*(t-p[pA])/(p[pB]-p[pC]*t)
}

// orient lets the longest lines be the longest: with strengths of any size the combs of the
// longest and the second longest lines, half a period apart, may have taken each other's place.
func (m *model) orient(q scale.Pattern) {
	beta, _, ok := m.strengths(m.p)
	if !ok {
		return
	}
	if m.runs(beta, 1) > m.runs(beta, 0) {
		m.mid += float64(q.Classes[0].Period) / 2
	}
}

// runs is over how many bands side by side, from the axis out, a comb's lines go on.
func (m *model) runs(beta *mat.Dense, c int) int {
	bands, mid := len(m.face.band), len(m.face.band)/2
	ref := beta.At(len(m.combs)-1, mid) // the shortest lines, on the axis
	n := 0
	for _, way := range []int{-1, +1} {
		for j := mid + way; j >= 0 && j < bands && beta.At(c, j)/ref > 0.4; j += way {
			n++
		}
	}
	return n
}

// residuals are what two combs of any strength leave of each band.
func (m *model) residuals(p parameters) ([][]float64, bool) {
	_, out, ok := m.strengths(p)
	return out, ok
}

// strengths fits the combs' strengths in each band, and returns what they leave.
func (m *model) strengths(p parameters) (*mat.Dense, [][]float64, bool) {
	n, k := len(m.face.t), len(m.combs)+2
	h := mat.NewDense(n, k, nil)
	shape, gain := p.shape(), math.Exp(p[pGain])
	if !shape.sensible() || math.Abs(p[pC]) > scale.MostBent || !(math.Abs(p[pMoved]) < 2*mostMove) {
		return nil, nil, false
	}
	for i, t := range m.face.t {
		u := m.index(p, t)
		for c, q := range m.combs {
			h.Set(i, c, q.at(u, shape)+gain*q.at(u-p[pMoved], shape))
		}
		h.Set(i, k-2, 1)
		h.Set(i, k-1, (u-m.mid)/m.half)
	}
	var qr mat.QR
	qr.Factorize(h)
	y := mat.NewDense(n, len(m.face.band), nil)
	for j, b := range m.face.band {
		y.SetCol(j, b)
	}
	var beta, fit mat.Dense
	if qr.SolveTo(&beta, false, y) != nil {
		return nil, nil, false
	}
	fit.Mul(h, &beta)
	out := make([][]float64, len(m.face.band))
	for j, b := range m.face.band {
		out[j] = make([]float64, n)
		for i := range b {
			out[j][i] = b[i] - fit.At(i, j)
		}
	}
	return &beta, out, true
}

// cost is n/2 log of the residual variance summed over the bands, and the priors'.
func (m *model) cost(p parameters, res [][]float64) float64 {
	total := 0.0
	for _, r := range res {
		total += float64(len(r)) / 2 * math.Log(meanSquare(r)+1e-12)
	}
	for k, sd := range m.prior {
		if sd > 0 {
			total += 0.5 * math.Pow((p[k]-m.about[k])/sd, 2)
		}
	}
	return total
}

func meanSquare(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x * x
	}
	return sum / float64(len(v))
}
