package mixed

import "math"

// path maps y to the variance value by value. y >= 0: known + t slope2, t = unit (e^y - 1). y < 0:
// e^y known, as if the values were better than stated. Both meet at y = 0 with, on average, the
// same slope; for equal values the path is the plain residual variance itself.
func (m *Model) path(y float64) (t, shrink float64) {
	if y >= 0 {
		return m.Unit * math.Expm1(y), 1
	}
	return 0, math.Exp(y)
}

// Diagonal is D on the path, 0 for a value left out.
func (m *Model) Diagonal(y float64) []float64 {
	t, shrink := m.path(y)
	d := make([]float64, len(m.R))
	for i, w := range m.Weight {
		if w > 0 {
			d[i] = (shrink*m.Stated[i] + t*m.Slope2[i]) / w
		}
	}
	return d
}

// gradient is dD/dy.
func (m *Model) gradient(y float64) []float64 {
	g := make([]float64, len(m.R))
	for i, w := range m.Weight {
		switch {
		case w <= 0:
		case y >= 0:
			g[i] = m.Unit * math.Exp(y) * m.Slope2[i] / w
		default:
			g[i] = math.Exp(y) * m.Stated[i] / w
		}
	}
	return g
}

// blockSums holds 1 + z'z/D for each block of values with a shared error.
func (m *Model) blockSums(d []float64) []float64 {
	sum := make([]float64, m.Blocks)
	for b := range sum {
		sum[b] = 1
	}
	for i, b := range m.Block {
		if b >= 0 && d[i] > 0 {
			sum[b] += m.Z[i] * m.Z[i] / d[i]
		}
	}
	return sum
}

// solveV returns V^-1 c for k columns stored row by row (Sherman-Morrison in each block).
func (m *Model) solveV(d, sums, c []float64, k int) []float64 {
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
	if m.Blocks == 0 {
		return out
	}
	dot := make([]float64, m.Blocks*k)
	for i, b := range m.Block {
		if b >= 0 && d[i] != 0 {
			for j, v := range out[i*k : (i+1)*k] {
				dot[b*k+j] += m.Z[i] * v
			}
		}
	}
	for i, b := range m.Block {
		if b < 0 || d[i] == 0 {
			continue
		}
		f, row := m.Z[i]/(d[i]*sums[b]), out[i*k:(i+1)*k]
		for j := range row {
			row[j] -= f * dot[b*k+j]
		}
	}
	return out
}

// Information is X'V^-1X plus the precision of the known columns.
func (m *Model) Information(d []float64) []float64 {
	w := m.solveV(d, m.blockSums(d), m.X, m.P)
	a := cross(m.X, w, m.P)
	for j, q := range m.Prior {
		a[j*m.P+j] += q
	}
	return a
}

// Gain is K = (X'V^-1X + Q)^-1 X'V^-1, a row of P for each value: what an error of it does to the
// unknowns.
func (m *Model) Gain(pt Point) []float64 {
	d := m.Diagonal(pt.Y)
	wx := m.solveV(d, m.blockSums(d), m.X, m.P)
	for i := range m.R {
		copy(wx[i*m.P:(i+1)*m.P], times(pt.Cov, wx[i*m.P:(i+1)*m.P], m.P))
	}
	return wx
}

// Precision is the diagonal of P = V^-1 - V^-1 X C X'V^-1, 0 for a value left out: its inverse is
// the variance of a residual from the fit of the other values. See e.g. Christensen, Pearson and
// Johnson, Technometrics 34 (1992) 38.
func (m *Model) Precision(pt Point) []float64 {
	d := m.Diagonal(pt.Y)
	sums := m.blockSums(d)
	wx := m.solveV(d, sums, m.X, m.P)
	out := make([]float64, len(d))
	for i, di := range d {
		if m.Weight[i] == 0 {
			continue
		}
		out[i] = 1/di - Quadratic(pt.Cov, wx[i*m.P:(i+1)*m.P])
		if b := m.Block[i]; b >= 0 {
			out[i] -= sq(m.Z[i]/di) / sums[b]
		}
	}
	return out
}
