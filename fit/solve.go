package fit

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// nullTol is the relative eigenvalue below which a direction of the unknowns counts as not told
// by the run; rounding leaves about 1e-15, weak but real designs lie above 1e-9.
const nullTol = 1e-11

// findNull sets the column scale and the directions the run says nothing of: the null space of
// the scaled information at the unit spread. It rests on the design alone, not on the readings.
func (m *linear) findNull() {
	p := m.p
	a := m.information(m.diagonal(0))
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

// estimable tells whether column j is free of the null directions.
func (m *linear) estimable(j int) bool {
	for _, v := range m.null {
		if math.Abs(v[j]) > 1e-4 {
			return false
		}
	}
	return true
}

// rank is the number of free unknowns the shots do determine.
func (m *linear) rank() int { return m.free() - len(m.null) }

// spare is how many shots there are beyond the unknowns; none, and nothing can be said of scatter.
func (m *linear) spare() int { return m.n - m.rank() }

// path maps y to the shot-by-shot variance. y >= 0: known + t slope2, t = unit (e^y - 1). y < 0:
// e^y known, as if the readings were better than stated. Both meet at y = 0 with, on average, the
// same slope; for equal shots the path is the plain residual variance itself.
func (m *linear) path(y float64) (t, shrink float64) {
	if y >= 0 {
		return m.unit * math.Expm1(y), 1
	}
	return 0, math.Exp(y)
}

// diagonal is D on the path, 0 for a shot left out.
func (m *linear) diagonal(y float64) []float64 {
	t, shrink := m.path(y)
	d := make([]float64, len(m.r))
	for i, w := range m.weight {
		if w > 0 {
			d[i] = (shrink*m.known2[i] + t*m.slope2[i]) / w
		}
	}
	return d
}

// gradient is dD/dy.
func (m *linear) gradient(y float64) []float64 {
	g := make([]float64, len(m.r))
	for i, w := range m.weight {
		switch {
		case w <= 0:
		case y >= 0:
			g[i] = m.unit * math.Exp(y) * m.slope2[i] / w
		default:
			g[i] = math.Exp(y) * m.known2[i] / w
		}
	}
	return g
}

// blockSums holds 1 + z'z/D for each block of shots with a shared height error.
func (m *linear) blockSums(d []float64) []float64 {
	sum := make([]float64, m.blocks)
	for b := range sum {
		sum[b] = 1
	}
	for i, b := range m.block {
		if b >= 0 && d[i] > 0 {
			sum[b] += m.z[i] * m.z[i] / d[i]
		}
	}
	return sum
}

// solveV returns V^-1 c for k columns stored row by row (Sherman-Morrison in each block).
func (m *linear) solveV(d, sums, c []float64, k int) []float64 {
	out := make([]float64, len(c))
	for i, di := range d {
		if di == 0 {
			continue
		}
		inv, row := 1/di, out[i*k:(i+1)*k]
		for j, v := range c[i*k : (i+1)*k] {
			row[j] = v * inv
		}
	}
	if m.blocks == 0 {
		return out
	}
	dot := make([]float64, m.blocks*k)
	for i, b := range m.block {
		if b >= 0 && d[i] != 0 {
			for j, v := range out[i*k : (i+1)*k] {
				dot[b*k+j] += m.z[i] * v
			}
		}
	}
	for i, b := range m.block {
		if b < 0 || d[i] == 0 {
			continue
		}
		f, row := m.z[i]/(d[i]*sums[b]), out[i*k:(i+1)*k]
		for j := range row {
			row[j] -= f * dot[b*k+j]
		}
	}
	return out
}

// information is X'V^-1X plus the precision of the known columns.
func (m *linear) information(d []float64) []float64 {
	w := m.solveV(d, m.blockSums(d), m.x, m.p)
	a := cross(m.x, w, m.p)
	for j, q := range m.prior {
		a[j*m.p+j] += q
	}
	return a
}

// cross is X'Y for two sets of n rows of p whose product is symmetric.
func cross(x, y []float64, p int) []float64 {
	out := make([]float64, p*p)
	for i := 0; i+p <= len(x); i += p {
		yi := y[i : i+p]
		for j, xj := range x[i : i+p] {
			if xj == 0 {
				continue
			}
			row := out[j*p : (j+1)*p]
			for k := j; k < p; k++ {
				row[k] += xj * yi[k]
			}
		}
	}
	for j := 0; j < p; j++ {
		for k := 0; k < j; k++ {
			out[j*p+k] = out[k*p+j]
		}
	}
	return out
}

// invert returns the inverse of the information and the log of its determinant, both within the
// directions the run tells; ok is false when rounding spoils it.
func (m *linear) invert(a []float64) (c []float64, logDet float64, ok bool) {
	p := m.p
	s := make([]float64, p*p)
	for j := 0; j < p; j++ {
		for k := 0; k < p; k++ {
			s[j*p+k] = a[j*p+k] * m.scale[j] * m.scale[k]
			for _, v := range m.null {
				s[j*p+k] += v[j] * v[k]
			}
		}
	}
	inv, logDet, ok := invertSym(s, p)
	if !ok {
		return nil, 0, false
	}
	for j := 0; j < p; j++ {
		logDet -= 2 * math.Log(m.scale[j])
		for k := 0; k < p; k++ {
			for _, v := range m.null {
				inv[j*p+k] -= v[j] * v[k]
			}
			inv[j*p+k] *= m.scale[j] * m.scale[k]
		}
	}
	return inv, logDet, true
}

// invertSym inverts a small positive definite matrix by its Cholesky factor.
func invertSym(a []float64, p int) (inv []float64, logDet float64, ok bool) {
	l := append([]float64(nil), a...)
	for j := 0; j < p; j++ {
		for k := 0; k <= j; k++ {
			sum := l[j*p+k]
			for q := 0; q < k; q++ {
				sum -= l[j*p+q] * l[k*p+q]
			}
			if j > k {
				l[j*p+k] = sum / l[k*p+k]
				continue
			}
			if !(sum > 0) {
				return nil, 0, false
			}
			l[j*p+j] = math.Sqrt(sum)
			logDet += math.Log(sum)
		}
	}
	inv = make([]float64, p*p)
	col := make([]float64, p)
	for c := 0; c < p; c++ {
		for j := 0; j < p; j++ {
			col[j] = 0
			if j == c {
				col[j] = 1
			}
			for k := 0; k < j; k++ {
				col[j] -= l[j*p+k] * col[k]
			}
			col[j] /= l[j*p+j]
		}
		for j := p - 1; j >= 0; j-- {
			for k := j + 1; k < p; k++ {
				col[j] -= l[k*p+j] * col[k]
			}
			col[j] /= l[j*p+j]
		}
		for j := 0; j < p; j++ {
			inv[j*p+c] = col[j]
		}
	}
	return inv, logDet, true
}
