package vision

import (
	"math"
	"slices"

	"leadmark/animal"
)

const (
	smearRounds = 20
	scaleRounds = 3      // after which the usual misfit is taken
	leastMisfit = 1e-4   // of an edge's variance: what any differs from the model
	alongGain   = 0.0125 // of the mean logarithm, below which a smear along the travel is taken for none
	otherGain   = 0.025  // the same in other directions, which are less likely beforehand
)

// smearSearch finds the smear by which all edges of an outline together are likeliest. Each is a smeared step at a place of its own, to be
// matched by weights of its own for the three channels, and a constant: so an animal's shades of colour do not pass for a step. An edge
// counts by the logarithm of its misfit, so that those which the body's own pattern spoils weigh little.
type smearSearch struct {
	profiles []edgeProfile
	fits     []smearFit // where each stood when it was fitted alone
	sigmas   []float64  // the Gaussians found there
	usual    float64    // misfit
}

// widths are those of the Gaussians fitted edge by edge.
func (b *smearSearch) widths() []edgeWidth {
	var all []edgeWidth
	for i, s := range b.sigmas {
		all = append(all, edgeWidth{b.profiles[i].inward, s * s})
	}
	return all
}

// likeliest are the Gaussian alone and the moving smear that are likeliest, and by how much the smear is the likelier, as a mean logarithm; wide is
// how wide the edges are, about, travel the way of the animal.
func (b *smearSearch) likeliest(wide tensor, travel animal.Point) (still, moving smear, gain float64) {
	dir, most, least := wide.axis()
	tail := math.Sqrt(max(0.1*least*least, most*most-least*least))
	starts := []smear{{least, tail * travel.X, tail * travel.Y}, {least, tail * dir.X, tail * dir.Y}, {least, -tail * dir.X, -tail * dir.Y},
		{least, 1.5 * least * travel.X, 1.5 * least * travel.Y}}
	b.scale(starts[0])
	still, alone := b.find(smear{sigma: (most + least) / 2}, false)
	gain = math.Inf(-1)
	for _, start := range starts {
		m, cost := b.find(start, true)
		if alone-cost > gain {
			moving, gain = m, alone-cost
		}
	}
	return still, moving, gain
}

// clear says whether a smear explains the edges clearly better than none. The two limits stand well between what drawn animals with and
// without one give.
func (m smear) clear(gain float64, travel animal.Point) bool {
	if m.x*travel.X+m.y*travel.Y > math.Hypot(m.x, m.y)*math.Sqrt2/2 {
		return gain > alongGain
	}
	return gain > otherGain
}

// scale takes the misfit that a third of the edges do not exceed, after a few steps, for the usual one.
func (b *smearSearch) scale(m smear) {
	fits := slices.Clone(b.fits)
	b.usual = 20 * leastMisfit
	for range scaleRounds {
		m, _ = b.improve(fits, m, true)
	}
	var all []float64
	for _, f := range fits {
		all = append(all, f.misfit)
	}
	slices.Sort(all)
	b.usual = max(leastMisfit, all[len(all)/3])
}

// find improves a smear from a start, or the Gaussian alone where it is not moving, and returns it with its cost.
func (b *smearSearch) find(m smear, moving bool) (best smear, least float64) {
	fits := slices.Clone(b.fits)
	best, least = m, math.Inf(1)
	for range smearRounds {
		next, cost := b.improve(fits, m, moving)
		gain := least - cost
		if cost < least {
			best, least = m, cost
		}
		if math.Abs(gain) < 1e-4 && math.Abs(next.sigma-m.sigma)+math.Hypot(next.x-m.x, next.y-m.y) < 5e-3*m.sigma {
			break
		}
		m = next
	}
	return best, least
}

// improve makes one step of iterated least squares for the smear and all edges' own unknowns, which are eliminated edge by edge. cost is
// that of the smear given: the mean logarithm of 1 + misfit / usual.
func (b *smearSearch) improve(fits []smearFit, m smear, moving bool) (next smear, cost float64) {
	sum := newNormal(3)
	parts := make([]edgeEquations, len(fits))
	for i := range fits {
		e, p := &parts[i], &b.profiles[i]
		*e = p.equations(&fits[i], m)
		cost += math.Log1p(e.misfit/b.usual) / float64(len(fits))
		fits[i].misfit = e.misfit
		e.eliminate(1 / ((e.misfit + b.usual) * p.count))
		for r := range 3 {
			for c := r; c < 3; c++ {
				sum.a[r][c] += e.a[ownUnknowns+r][ownUnknowns+c]
			}
			sum.a[r][edgeUnknowns] += e.a[ownUnknowns+r][allUnknowns]
		}
	}
	for r := range 3 {
		sum.a[r][r] = 1.02*sum.a[r][r] + 1e-6 // a little stiffness
	}
	if !moving {
		sum.m = 1
	}
	d, _, ok := sum.solve()
	if !ok {
		return m, cost
	}
	next = m.stepped(d[0], d[1], d[2])
	for i := range fits {
		fits[i].step(parts[i].back([3]float64{next.sigma - m.sigma, next.x - m.x, next.y - m.y}), b.profiles[i].half)
	}
	return next, cost
}
