package fit

import (
	"math"

	"leadmark/fit/mixed"
)

// linearise evaluates model and derivatives at theta; t is the spread's variance, eiv the
// adjustment of measured speeds (York 2004; nil at the start).
func (l *layout) linearise(theta, weight []float64, t float64, eiv []float64) *mixed.Model {
	n, p := len(l.run.Shots), l.p
	m := &mixed.Model{P: p, Theta: theta, Weight: weight, Prior: l.prior, Block: l.block, Blocks: l.blocks,
		X: make([]float64, n*p), R: make([]float64, n), Stated: make([]float64, n),
		Slope2: make([]float64, n), Z: make([]float64, n)}
	for i := range l.run.Shots {
		pulled := 0.0
		if eiv != nil {
			pulled = eiv[i]
		}
		l.row(m, i, math.Max(t, 0), pulled)
	}
	m.Complete()
	return m
}

// row fills shot i. The mean of a tau^2/2 holds a t/2 for the spread's own square.
func (l *layout) row(m *mixed.Model, i int, t, pulled float64) {
	s, theta := l.run.Shots[i], m.Theta
	tau, v, a := theta[colLag]+s.Delay, l.speed(m.Theta, i), l.accel(i)
	x := m.X[i*l.p : (i+1)*l.p]
	u := math.Max(s.AdvanceU, minReadU)
	known, f := u*u, theta[colTrip]+v*tau+a*(tau*tau+t)/2
	slope := v + a*tau
	x[colLag], x[colTrip] = slope, 1
	switch {
	case s.Drop > 0:
		perHeight := tau * l.run.Gravity / v // ds/dh = tau dv/dh, dv/dh = g/v
		known += sq(perHeight * s.DropShotU)
		m.Z[i] = perHeight * s.DropU
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
		x[colLag] += pulled
	}
	if l.heldLag {
		x[colLag] = 0
	}
	m.R[i], m.Stated[i], m.Slope2[i] = s.Advance-f, known, slope*slope
}
