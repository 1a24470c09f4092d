package mixed

import "math"

// Point is everything known of the fit at one place y of the variance path.
type Point struct {
	Y, T, Shrink float64   // T: variance of the spread; Shrink: of what is stated of the variances
	Info         float64   // expected information on y
	Q            float64   // weighted sum of squares, known parts included
	Step         []float64 // best unknowns minus Theta
	Cov          []float64 // P x P covariance of the unknowns
	DCov         []float64 // its derivative in y
	Adjust       []float64 // what estimating the variance adds to Cov, per unit variance of y
	WRes         []float64 // V^-1 (residual)
	OK           bool

	loglik float64 // restricted log-likelihood, up to a constant
	score  float64 // its derivative in y
}

// At evaluates the restricted likelihood at y. Formulas: Patterson and Thompson 1971; Harville
// 1977 (likelihood, score, expected information tr(PGPG)/2); Kenward and Roger 1997 (adjust).
// P = V^-1 - V^-1 X C X'V^-1, G = dV/dy.
func (m *Model) At(y float64) Point {
	p := m.P
	pt := Point{Y: y}
	pt.T, pt.Shrink = m.path(y)
	d, g := m.Diagonal(y), m.gradient(y)
	sums := m.blockSums(d)
	wx := m.solveV(d, sums, m.X, p)
	a := cross(m.X, wx, p)
	rhs := make([]float64, p)
	for j, q := range m.Prior {
		a[j*p+j] += q
		rhs[j] -= q * m.Theta[j]
		pt.Q += q * m.Theta[j] * m.Theta[j]
	}
	cov, logDet, ok := m.invert(a)
	if !ok {
		return pt
	}
	wr := m.solveV(d, sums, m.R, 1)
	for i := range m.R {
		pt.Q += m.R[i] * wr[i]
		for j := 0; j < p; j++ {
			rhs[j] += wx[i*p+j] * m.R[i]
		}
	}
	step := times(cov, rhs, p)
	for j := range step {
		pt.Q -= step[j] * rhs[j]
	}
	pt.Q = math.Max(pt.Q, 0) // rounding, where the fit is exact
	logV := 0.0
	for i := range d {
		if d[i] > 0 {
			logV += math.Log(d[i] * m.Weight[i])
		}
	}
	for _, s := range sums {
		logV += math.Log(s)
	}
	pt.loglik = -0.5 * (logV + logDet + pt.Q)
	pt.Step, pt.Cov, pt.OK = step, cov, true
	m.derivatives(&pt, d, g, sums, wx, wr)
	return pt
}

// derivatives fills score, information and the derivatives of the covariance.
func (m *Model) derivatives(pt *Point, d, g, sums, wx, wr []float64) {
	p, n := m.P, len(m.R)
	gwx := make([]float64, len(wx)) // G V^-1 X
	pt.WRes = wr
	traceVG, quad := 0.0, 0.0
	for i := 0; i < n; i++ {
		if d[i] == 0 {
			continue
		}
		for j := 0; j < p; j++ {
			gwx[i*p+j] = g[i] * wx[i*p+j]
			wr[i] -= wx[i*p+j] * pt.Step[j]
		}
		traceVG += g[i] / d[i]
		quad += g[i] * wr[i] * wr[i]
	}
	trace2 := m.blockTraces(d, g, sums, &traceVG)
	h := cross(wx, gwx, p)                        // X'V^-1 G V^-1 X
	k := cross(gwx, m.solveV(d, sums, gwx, p), p) // X'V^-1 G V^-1 G V^-1 X
	ch := product(pt.Cov, h, p)
	pt.score = 0.5 * (quad - traceVG + trace(ch, p))
	pt.Info = 0.5 * (trace2 - 2*trace(product(pt.Cov, k, p), p) + trace(product(ch, ch, p), p))
	pt.DCov = product(ch, pt.Cov, p)
	hch := product(h, ch, p)
	for i := range k {
		k[i] -= hch[i]
	}
	pt.Adjust = product(product(pt.Cov, k, p), pt.Cov, p)
	for i := range pt.Adjust {
		pt.Adjust[i] *= 2
	}
}

// blockTraces completes tr(V^-1 G) and returns tr(V^-1 G V^-1 G).
func (m *Model) blockTraces(d, g, sums []float64, traceVG *float64) float64 {
	trace2 := 0.0
	one, two := make([]float64, m.Blocks), make([]float64, m.Blocks)
	for i := range d {
		if d[i] == 0 {
			continue
		}
		q := g[i] / d[i]
		trace2 += q * q
		if b := m.Block[i]; b >= 0 {
			w := m.Z[i] * m.Z[i] / d[i]
			one[b] += q * w
			two[b] += q * q * w
		}
	}
	for b, s := range sums {
		*traceVG -= one[b] / s
		trace2 += -2*two[b]/s + sq(one[b]/s)
	}
	return trace2
}

// invert returns the inverse of the information and the log of its determinant, both within the
// directions the run tells; ok is false when rounding spoils it.
func (m *Model) invert(a []float64) (c []float64, logDet float64, ok bool) {
	p := m.P
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
