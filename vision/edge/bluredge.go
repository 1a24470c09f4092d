package edge

import (
	"math"
	"slices"
)

// Unknowns of an edge that is blurred like all others: its own, place, three weights and a
// constant, and the blur's.
const (
	ownUnknowns = 5
	allUnknowns = ownUnknowns + 3
)

// blurFit is where one edge stands.
type blurFit struct {
	at       float64
	weights  [3]float64
	constant float64
	misfit   float64 // mean squared residual over the step's variance
}

// step moves it; the place not far at once, and not out of its profile.
func (f *blurFit) step(d [ownUnknowns]float64, half float64) {
	f.at = max(-half, min(half, f.at+max(-placeShare*half, min(placeShare*half, d[0]))))
	for k := range f.weights {
		f.weights[k] += d[1+k]
	}
	f.constant += d[4]
}

// edgeEquations are one edge's normal equations: its own unknowns, the blur's, and the right side.
type edgeEquations struct {
	a      [allUnknowns][allUnknowns + 1]float64
	misfit float64
}

// equations are those of an edge, with the noise of the channels counted against their weights.
// room is used for the steps.
func (p *edgeProfile) equations(f *blurFit, m blur, room *[]blurredBin) edgeEquations {
	var e edgeEquations
	for i, t := range p.steps(f.at, m, room) {
		b := &p.bins[i]
		r := dot(f.weights, b.d) + f.constant - t.step
		e.misfit += b.n * r * r / p.count
		j := [allUnknowns]float64{
			t.byPlace, -b.d[0], -b.d[1], -b.d[2], -1,
			t.bySigma, t.byTail * p.inward.X, t.byTail * p.inward.Y,
		}
		for row := range allUnknowns {
			for c := row; c < allUnknowns; c++ {
				e.a[row][c] += b.n * j[row] * j[c]
			}
			e.a[row][allUnknowns] += b.n * j[row] * r
		}
	}
	for k, w := range f.weights {
		e.a[1+k][1+k] += p.count * p.noise
		e.a[1+k][allUnknowns] -= p.count * p.noise * w
		e.misfit += p.noise * w * w
	}
	for row := range allUnknowns {
		for c := range row {
			e.a[row][c] = e.a[c][row]
		}
	}
	return e
}

// blurredBin is the blurred step at one bin of a profile, and its derivatives.
type blurredBin struct{ step, byPlace, bySigma, byTail float64 }

// steps are the blurred step at a place over a profile, about its mean and in units of its standard
// deviation there: else a slow step, which varies less, would be matched better for that alone.
func (p *edgeProfile) steps(at float64, m blur, room *[]blurredBin) []blurredBin {
	tail, sigma := m.tail(p.inward), math.Sqrt(m.sigma*m.sigma+p.known)
	*room = slices.Grow((*room)[:0], len(p.bins))
	all := (*room)[:len(p.bins)]
	mean := 0.0
	for i, b := range p.bins {
		t := blurredAt(b.s-at+tail, sigma, tail) // its mean at the place
		all[i] = blurredBin{t.step, -t.density, t.bySigma * m.sigma / sigma, t.byTail + t.density}
		mean += b.n * t.step / p.count
	}
	v, with := leastMisfit, blurredBin{} // variance, and covariances of the derivatives with the step
	for i, t := range all {
		k := p.bins[i].n * (t.step - mean) / p.count
		v += k * (t.step - mean)
		with.byPlace, with.bySigma, with.byTail = with.byPlace+k*t.byPlace, with.bySigma+k*t.bySigma,
			with.byTail+k*t.byTail
	}
	unit := 1 / math.Sqrt(v)
	for i, t := range all {
		s := t.step - mean
		all[i] = blurredBin{
			s * unit, unit * (t.byPlace - s*with.byPlace/v),
			unit * (t.bySigma - s*with.bySigma/v), unit * (t.byTail - s*with.byTail/v),
		}
	}
	return all
}

// eliminate takes the edge's own unknowns out of the equations of the blur, all weighed.
func (e *edgeEquations) eliminate(weight float64) {
	for r := range e.a {
		for c := range e.a[r] {
			e.a[r][c] *= weight
		}
	}
	for k := range ownUnknowns {
		if !e.told(k) {
			continue
		}
		for r := k + 1; r < allUnknowns; r++ {
			f := e.a[r][k] / e.a[k][k]
			for c := k; c <= allUnknowns; c++ {
				e.a[r][c] -= f * e.a[k][c]
			}
		}
	}
}

// told says whether the equations tell an unknown.
func (e *edgeEquations) told(k int) bool { return e.a[k][k] > 1e-12 }

// back is the step of the edge's own unknowns that belongs to one of the blur.
func (e *edgeEquations) back(common [3]float64) (d [ownUnknowns]float64) {
	for k := ownUnknowns - 1; k >= 0; k-- {
		v := e.a[k][allUnknowns]
		for c := k + 1; c < ownUnknowns; c++ {
			v -= e.a[k][c] * d[c]
		}
		for c, q := range common {
			v -= e.a[k][ownUnknowns+c] * q
		}
		if e.told(k) {
			d[k] = v / e.a[k][k]
		}
	}
	return d
}
