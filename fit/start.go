package fit

import (
	"math"

	"leadmark/fit/stat"
)

// typicalLag starts the search; any lag a camera or flash can have is reached from it.
const typicalLag = 0.05 // s

// start finds unknowns that up to half of the shots cannot spoil, and how far each shot lies from
// them in robust standard deviations.
func (l *layout) start() (theta, far []float64) {
	theta, far = make([]float64, l.p), make([]float64, len(l.run.Shots))
	theta[colLag] = typicalLag
	l.startKnown(theta, far)
	for g := range l.groups {
		l.startGroup(g, theta, far)
	}
	return theta, far
}

// startKnown fits the shots of known speed: s - f(L0) = db + (v + a tau) dL, two rounds.
func (l *layout) startKnown(theta, far []float64) {
	var shots []int
	for i := range l.run.Shots {
		if l.groupOf[i] < 0 {
			shots = append(shots, i)
		}
	}
	if len(shots) == 0 {
		return
	}
	x, y := make([]float64, len(shots)), make([]float64, len(shots))
	var fit stat.Line
	for round := 0; round < 2; round++ {
		lo, hi := math.Inf(1), math.Inf(-1)
		for k, i := range shots {
			tau, v, a := theta[colLag]+l.run.Shots[i].Delay, l.known[i], l.accel(i)
			x[k] = v + a*tau
			y[k] = l.run.Shots[i].Advance - v*tau - a*tau*tau/2
			lo, hi = math.Min(lo, x[k]), math.Max(hi, x[k])
		}
		level := hi-lo < 1e-3*hi
		fit = stat.LeastTrimmed(x, y, level)
		if level { // lag and trip place cannot be told apart: take the trip place as given
			theta[colLag] += fit.A / x[0]
			theta[colTrip] = 0
			continue
		}
		theta[colLag] += fit.B
		theta[colTrip] = fit.A
	}
	for k, i := range shots {
		r := y[k] - fit.A - fit.B*x[k]
		far[i] = math.Abs(r) / math.Max(math.Max(fit.Scale, l.run.Shots[i].AdvanceU), minReadU)
	}
}

// startGroup fits advance against delay for one unknown speed.
func (l *layout) startGroup(g int, theta, far []float64) {
	var shots []int
	var x, y []float64
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, s := range l.run.Shots {
		if l.groupOf[i] == g {
			shots, x, y = append(shots, i), append(x, s.Delay), append(y, s.Advance)
			lo, hi = math.Min(lo, s.Delay), math.Max(hi, s.Delay)
		}
	}
	level := hi-lo < 1e-9
	fit := stat.LeastTrimmed(x, y, level)
	theta[colSpan+g] = 1
	switch {
	case !level && fit.B != 0:
		theta[colSpan+g] = fit.B
		if g == 0 && len(shots) == len(l.run.Shots) {
			theta[colLag] = (fit.A - theta[colTrip]) / fit.B
		}
	case theta[colLag]+lo > 0 && fit.A-theta[colTrip] > 0:
		theta[colSpan+g] = (fit.A - theta[colTrip]) / (theta[colLag] + lo)
	}
	for k, i := range shots {
		r := y[k] - fit.A - fit.B*x[k]
		far[i] = math.Abs(r) / math.Max(math.Max(fit.Scale, l.run.Shots[i].AdvanceU), minReadU)
	}
}
