package mixed

// Widened is the model with more unknowns: columns of so many derivatives.
func (m *Model) Widened(columns [][]float64) *Model {
	k, p := len(columns), m.P
	wide := *m
	wide.P = p + k
	wide.Prior = append(append([]float64(nil), m.Prior...), make([]float64, k)...)
	wide.Theta = append(append([]float64(nil), m.Theta...), make([]float64, k)...)
	wide.X = make([]float64, len(m.R)*wide.P)
	for i := range m.R {
		row := wide.X[i*wide.P : (i+1)*wide.P]
		copy(row, m.X[i*p:(i+1)*p])
		for j := range columns {
			row[p+j] = columns[j][i]
		}
	}
	wide.Complete()
	return &wide
}

// Wald is g'C^-1 g of the last k unknowns at a place of the path.
func (m *Model) Wald(pt Point, k int) (q float64, ok bool) {
	first := m.P - k
	c := make([]float64, k*k)
	for a := 0; a < k; a++ {
		for b := 0; b < k; b++ {
			c[a*k+b] = pt.Cov[(first+a)*m.P+first+b]
		}
	}
	inv, _, ok := invertSym(c, k)
	return Quadratic(inv, pt.Step[first:]), ok
}
