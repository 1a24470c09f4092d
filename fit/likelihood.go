package fit

import "math"

// point is everything known of the fit at one place y of the variance path.
type point struct {
	y, t, shrink float64
	loglik       float64   // restricted log-likelihood, up to a constant
	score, info  float64   // its derivative in y, and the expected information on y
	q            float64   // weighted sum of squares, known parts included
	step         []float64 // best unknowns minus theta
	cov          []float64 // p x p covariance of the unknowns
	dcov         []float64 // its derivative in y
	adjust       []float64 // what estimating the variance adds to cov, per unit variance of y
	wres         []float64 // V^-1 (residual)
	ok           bool
}

// at evaluates the restricted likelihood at y. Formulas: Patterson and Thompson 1971; Harville
// 1977 (likelihood, score, expected information tr(PGPG)/2); Kenward and Roger 1997 (adjust).
// P = V^-1 - V^-1 X C X'V^-1, G = dV/dy.
func (m *linear) at(y float64) point {
	p := m.p
	pt := point{y: y}
	pt.t, pt.shrink = m.path(y)
	d, g := m.diagonal(y), m.gradient(y)
	sums := m.blockSums(d)
	wx := m.solveV(d, sums, m.x, p)
	a := cross(m.x, wx, p)
	rhs := make([]float64, p)
	for j, q := range m.prior {
		a[j*p+j] += q
		rhs[j] -= q * m.theta[j]
		pt.q += q * m.theta[j] * m.theta[j]
	}
	cov, logDet, ok := m.invert(a)
	if !ok {
		return pt
	}
	wr := m.solveV(d, sums, m.r, 1)
	for i := range m.r {
		pt.q += m.r[i] * wr[i]
		for j := 0; j < p; j++ {
			rhs[j] += wx[i*p+j] * m.r[i]
		}
	}
	step := times(cov, rhs, p)
	for j := range step {
		pt.q -= step[j] * rhs[j]
	}
	pt.q = math.Max(pt.q, 0) // rounding, where the fit is exact
	logV := 0.0
	for i := range d {
		if d[i] > 0 {
			logV += math.Log(d[i] * m.weight[i])
		}
	}
	for _, s := range sums {
		logV += math.Log(s)
	}
	pt.loglik = -0.5 * (logV + logDet + pt.q)
	pt.step, pt.cov, pt.ok = step, cov, true
	m.derivatives(&pt, d, g, sums, wx, wr)
	return pt
}

// derivatives fills score, information and the derivatives of the covariance.
func (m *linear) derivatives(pt *point, d, g, sums, wx, wr []float64) {
	p, n := m.p, len(m.r)
	gwx := make([]float64, len(wx)) // G V^-1 X
	pt.wres = wr
	traceVG, quad := 0.0, 0.0
	for i := 0; i < n; i++ {
		if d[i] == 0 {
			continue
		}
		for j := 0; j < p; j++ {
			gwx[i*p+j] = g[i] * wx[i*p+j]
			wr[i] -= wx[i*p+j] * pt.step[j]
		}
		traceVG += g[i] / d[i]
		quad += g[i] * wr[i] * wr[i]
	}
	trace2 := m.blockTraces(d, g, sums, &traceVG)
	h := cross(wx, gwx, p)                        // X'V^-1 G V^-1 X
	k := cross(gwx, m.solveV(d, sums, gwx, p), p) // X'V^-1 G V^-1 G V^-1 X
	ch := product(pt.cov, h, p)
	pt.score = 0.5 * (quad - traceVG + trace(ch, p))
	pt.info = 0.5 * (trace2 - 2*trace(product(pt.cov, k, p), p) + trace(product(ch, ch, p), p))
	pt.dcov = product(ch, pt.cov, p)
	hch := product(h, ch, p)
	for i := range k {
		k[i] -= hch[i]
	}
	pt.adjust = product(product(pt.cov, k, p), pt.cov, p)
	for i := range pt.adjust {
		pt.adjust[i] *= 2
	}
}

// blockTraces completes tr(V^-1 G) and returns tr(V^-1 G V^-1 G).
func (m *linear) blockTraces(d, g, sums []float64, traceVG *float64) float64 {
	trace2 := 0.0
	one, two := make([]float64, m.blocks), make([]float64, m.blocks)
	for i := range d {
		if d[i] == 0 {
			continue
		}
		q := g[i] / d[i]
		trace2 += q * q
		if b := m.block[i]; b >= 0 {
			w := m.z[i] * m.z[i] / d[i]
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

func times(a, x []float64, p int) []float64 {
	out := make([]float64, p)
	for j := range out {
		for k := 0; k < p; k++ {
			out[j] += a[j*p+k] * x[k]
		}
	}
	return out
}

func product(a, b []float64, p int) []float64 {
	out := make([]float64, p*p)
	for j := 0; j < p; j++ {
		for k := 0; k < p; k++ {
			if v := a[j*p+k]; v != 0 {
				for q := 0; q < p; q++ {
					out[j*p+q] += v * b[k*p+q]
				}
			}
		}
	}
	return out
}

func trace(a []float64, p int) float64 {
	sum := 0.0
	for j := 0; j < p; j++ {
		sum += a[j*p+j]
	}
	return sum
}

// quadratic is x'Cx.
func quadratic(c, x []float64) float64 {
	p, sum := len(x), 0.0
	for j, xj := range x {
		for k, xk := range x {
			sum += xj * xk * c[j*p+k]
		}
	}
	return sum
}
