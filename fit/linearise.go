package fit

import "math"

// linearise evaluates model and derivatives at theta; t is the spread's variance, eiv the
// adjustment of measured speeds (York 2004; nil at the start).
func (l *layout) linearise(theta, weight []float64, t float64, eiv []float64) *linear {
	n, p := len(l.run.Shots), l.p
	m := &linear{layout: l, theta: theta, weight: weight, eiv: eiv,
		x: make([]float64, n*p), r: make([]float64, n), known2: make([]float64, n),
		slope2: make([]float64, n), z: make([]float64, n)}
	ratio := 0.0
	for i := range l.run.Shots {
		l.row(m, i, math.Max(t, 0))
		if weight[i] > 0 {
			m.n++
			ratio += m.slope2[i] / m.known2[i]
		}
	}
	m.unit = float64(m.n) / math.Max(ratio, 1e-300)
	m.findNull()
	return m
}

// row fills shot i. The mean of a tau^2/2 holds a t/2 for the spread's own square.
func (l *layout) row(m *linear, i int, t float64) {
	s, theta := l.run.Shots[i], m.theta
	tau, v, a := theta[colLag]+s.Delay, l.speed(m.theta, i), l.accel(i)
	x := m.x[i*l.p : (i+1)*l.p]
	u := math.Max(s.AdvanceU, minReadU)
	known, f := u*u, theta[colTrip]+v*tau+a*(tau*tau+t)/2
	slope := v + a*tau
	x[colLag], x[colTrip] = slope, 1
	switch {
	case s.Drop > 0:
		perHeight := tau * l.run.Gravity / v // ds/dh = tau dv/dh, dv/dh = g/v
		known += sq(perHeight * s.DropShotU)
		m.z[i] = perHeight * s.DropU
		if l.colCommon >= 0 {
			x[l.colCommon] = perHeight * l.run.DropCommonU
			f += x[l.colCommon] * theta[l.colCommon]
		}
		if l.colGrav >= 0 { // ds/dg = tau v/(2g) + tau^2/2
			x[l.colGrav] = (tau*v/(2*l.run.Gravity) + tau*tau/2) * l.run.GravityU
			f += x[l.colGrav] * theta[l.colGrav]
		}
	case l.groupOf[i] >= 0:
		x[colSpan+l.groupOf[i]] = tau
		known += sq(v * tau * l.run.SpeedRepeat)
	default:
		known += sq(tau * s.SpeedU)
		if m.eiv != nil {
			x[colLag] += m.eiv[i]
		}
	}
	if l.heldLag {
		x[colLag] = 0
	}
	m.r[i], m.known2[i], m.slope2[i] = s.Advance-f, known, slope*slope
}
