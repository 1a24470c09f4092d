package doubleflash

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// fit refines all parameters by Gauss-Newton on the residuals that the bands' strengths leave
// (variable projection: Golub and Pereyra, SIAM J. Numer. Anal. 10 (1973) 413).
func (m *model) fit() bool {
	res, ok := m.residuals(m.p)
	if !ok {
		return false
	}
	cost := m.cost(m.p, res)
	for pass := 0; pass < 25; pass++ {
		step, ok := m.step(res)
		if !ok {
			return false
		}
		gained := false
		for k := 1.0; k > 0.02; k /= 2 {
			p := m.p
			for i := range p {
				p[i] += k * step[i]
			}
			r, ok := m.residuals(p)
			if !ok {
				continue
			}
			if c := m.cost(p, r); c < cost {
				gained = cost-c > 1e-4
				m.p, res, cost = p, r, c
				break
			}
		}
		if !gained {
			break
		}
	}
	_, ok = m.step(res) // for the covariance at the end
	return ok
}

// scaleOf is a small change of each parameter, by which derivatives are taken.
func (m *model) scaleOf(k int) float64 {
	switch k {
	case pA, pB:
		return 1e-3 * math.Abs(m.p[pB]) / m.half
	case pC:
		return 1e-3 / m.half
	}
	return 1e-3
}

// step solves the normal equations about the present parameters.
func (m *model) step(res [][]float64) (step parameters, ok bool) {
	m.variance = make([]float64, len(res))
	for j, r := range res {
		m.variance[j] = meanSquare(r) + 1e-12
	}
	var d [parameterCount][][]float64
	for k := range d {
		p, h := m.p, m.scaleOf(k)
		p[k] += h
		r, ok := m.residuals(p)
		if !ok {
			return step, false
		}
		for j := range r {
			for i := range r[j] {
				r[j][i] = (r[j][i] - res[j][i]) / h
			}
		}
		d[k] = r
	}
	n, g := mat.NewSymDense(parameterCount, nil), mat.NewVecDense(parameterCount, nil)
	for a := range d {
		g.SetVec(a, -m.product(d[a], res))
		for b := a; b < parameterCount; b++ {
			n.SetSym(a, b, m.product(d[a], d[b]))
		}
		if sd := m.prior[a]; sd > 0 {
			n.SetSym(a, a, n.At(a, a)+1/(sd*sd))
			g.SetVec(a, g.AtVec(a)-(m.p[a]-m.about[a])/(sd*sd))
		}
	}
	return m.solve(n, g)
}

// product is the sum over bands and samples of a times b, weighed by the bands' variances.
func (m *model) product(a, b [][]float64) float64 {
	total := 0.0
	for j := range a {
		sum := 0.0
		for i := range a[j] {
			sum += a[j][i] * b[j][i]
		}
		total += sum / m.variance[j]
	}
	return total
}

func (m *model) solve(n *mat.SymDense, g *mat.VecDense) (step parameters, ok bool) {
	var c mat.Cholesky
	if !c.Factorize(n) {
		return step, false
	}
	m.cov = mat.NewSymDense(parameterCount, nil)
	if c.InverseTo(m.cov) != nil {
		return step, false
	}
	var s mat.VecDense
	if c.SolveVecTo(&s, g) != nil {
		return step, false
	}
	for k := range step {
		step[k] = s.AtVec(k)
	}
	return step, true
}
