package mixed

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Model is a model linearised at Theta: residuals R, derivatives X, and the parts of the covariance
// V = diag(Stated + t Slope2) + sum over blocks z z'. Complete works out the rest.
type Model struct {
	P      int       // unknowns
	Theta  []float64 // at which it is linearised
	X      []float64 // a row of P for each value
	R      []float64 // value - model(Theta)
	Stated []float64 // variance of each value without the spread
	Slope2 []float64 // what a unit of the spread's variance adds to it
	Z      []float64 // error that a block shares, per its standard deviation
	Block  []int     // of each value; -1: none
	Blocks int
	Weight []float64 // robust weights, 0 leaves a value out
	Prior  []float64 // precision of each unknown about nil, 0 when free

	N    int     // values with a weight above 0
	Unit float64 // spread variance at which both parts are alike on average

	null  [][]float64
	scale []float64
}

// Complete sets N, Unit and the directions that the design says nothing of.
func (m *Model) Complete() {
	m.N = 0
	ratio := 0.0
	for i, w := range m.Weight {
		if w > 0 {
			m.N++
			ratio += m.Slope2[i] / m.Stated[i]
		}
	}
	m.Unit = float64(m.N) / math.Max(ratio, 1e-300)
	m.findNull()
}

// nullTol is the relative eigenvalue below which a direction of the unknowns counts as not told
// by the values; rounding leaves about 1e-15, weak but real designs lie above 1e-9.
const nullTol = 1e-11

// findNull sets the column scale and the directions the values say nothing of: the null space of
// the scaled information at the unit spread. It rests on the design alone, not on the readings.
func (m *Model) findNull() {
	p := m.P
	m.null = nil
	a := m.Information(m.Diagonal(0))
	m.scale = make([]float64, p)
	for j := range m.scale {
		m.scale[j] = 1
		if d := a[j*p+j]; d > 0 {
			m.scale[j] = 1 / math.Sqrt(d)
		}
	}
	sym := mat.NewSymDense(p, nil)
	for j := 0; j < p; j++ {
		for k := j; k < p; k++ {
			sym.SetSym(j, k, a[j*p+k]*m.scale[j]*m.scale[k])
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(sym, true) {
		return
	}
	var vec mat.Dense
	eig.VectorsTo(&vec)
	for k, value := range eig.Values(nil) {
		if value < nullTol {
			m.null = append(m.null, mat.Col(nil, k, &vec))
		}
	}
}

// Estimable tells whether column j is free of the null directions.
func (m *Model) Estimable(j int) bool {
	for _, v := range m.null {
		if math.Abs(v[j]) > 1e-4 {
			return false
		}
	}
	return true
}

// Rank is the number of free unknowns the values do determine.
func (m *Model) Rank() int { return m.free() - len(m.null) }

// Spare is how many values there are beyond the unknowns; none, and nothing can be said of scatter.
func (m *Model) Spare() int { return m.N - m.Rank() }

// free counts the unknowns without a known standard deviation.
func (m *Model) free() int {
	k := 0
	for _, q := range m.Prior {
		if q == 0 {
			k++
		}
	}
	return k
}
