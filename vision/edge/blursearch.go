package edge

import (
	"math"
	"slices"

	"leadmark/vision/animal"
)

// blurSearch finds the blur by which all edges of an outline together are likeliest. Each is a
// blurred step at a place of its own, to be matched by weights of its own for the three channels,
// and a constant: so an animal's shades of colour do not pass for a step. An edge counts by the
// logarithm of its misfit, so that those which the body's own pattern spoils weigh little.
type blurSearch struct {
	profiles []edgeProfile
	fits     []blurFit // where each stood when it was fitted alone
	sigmas   []float64 // the Gaussians found there
	usual    float64   // misfit
	parts    []edgeEquations
	room     []blurredBin // for the steps of one edge at a time
}

// widths are those of the Gaussians fitted edge by edge.
func (b *blurSearch) widths() []edgeWidth {
	var all []edgeWidth
	for i, s := range b.sigmas {
		all = append(all, edgeWidth{b.profiles[i].inward, s * s})
	}
	return all
}

// moving is the likeliest blur where one is taken to be; wide is how wide the edges are, about,
// travel the way of the animal.
func (b *blurSearch) moving(wide tensor, travel animal.Point) blur {
	dir, most, least := wide.axis()
	tail := max(likelyTail*least, math.Sqrt(max(0, most*most-least*least)))
	if dir.X*travel.X+dir.Y*travel.Y < 0 {
		dir = animal.Point{X: -dir.X, Y: -dir.Y}
	}
	first := blur{least, tail * travel.X, tail * travel.Y}
	b.scale(first)
	across := blur{least, tail * dir.X, tail * dir.Y}
	short := blur{least, shortTail * least * travel.X, shortTail * least * travel.Y}
	m, _ := b.best(roughRounds, first, across, short)
	return m
}

// likeliest is the blur of the edges, or the Gaussian alone where motion explains them no better;
// guess is one, travel the way of the animal.
func (b *blurSearch) likeliest(guess blur, travel animal.Point) blur {
	b.scale(guess)
	_, most, least := guess.reach().axis()
	still, alone := b.find(blur{sigma: (most + least) / 2}, false, blurRounds)
	if moving, cost := b.best(blurRounds, guess, blur{guess.sigma, -guess.x, -guess.y}); moving.clear(alone-cost,
		travel) {
		return moving
	}
	return still
}

// best is the best blur found from several starts in so many rounds each, and its cost.
func (b *blurSearch) best(rounds int, starts ...blur) (best blur, least float64) {
	least = math.Inf(1)
	for _, start := range starts {
		if m, cost := b.find(start, true, rounds); cost < least {
			best, least = m, cost
		}
	}
	return best, least
}

// clear says whether motion explains the edges clearly better than none. The limits stand between
// what drawn animals with and without one give.
func (m blur) clear(gain float64, travel animal.Point) bool {
	if m.x*travel.X+m.y*travel.Y > math.Hypot(m.x, m.y)*math.Sqrt2/2 {
		return gain > alongGain
	}
	return gain > otherGain
}

// scale takes the misfit that a third of the edges do not exceed, after a few steps, for the usual
// one.
func (b *blurSearch) scale(m blur) {
	fits := slices.Clone(b.fits)
	b.usual = usualMisfit * leastMisfit
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

// find improves a blur from a start, or the Gaussian alone where it is not moving, and returns it
// with its cost.
func (b *blurSearch) find(m blur, moving bool, rounds int) (best blur, least float64) {
	fits := slices.Clone(b.fits)
	best, least = m, math.Inf(1)
	for range rounds {
		next, cost := b.improve(fits, m, moving)
		gain := least - cost
		if cost < least {
			best, least = m, cost
		}
		if math.Abs(gain) < blurGain && math.Abs(next.sigma-m.sigma)+math.Hypot(next.x-m.x, next.y-m.y) < blurStep*m.sigma {
			break
		}
		m = next
	}
	return best, least
}

// improve makes one step of iterated least squares for the blur and all edges' own unknowns, which
// are eliminated edge by edge. cost is that of the blur given: the mean logarithm of 1 + misfit /
// usual.
func (b *blurSearch) improve(fits []blurFit, m blur, moving bool) (next blur, cost float64) {
	sum := newNormal(3)
	parts := b.parts[:len(fits)]
	for i := range fits {
		e, p := &parts[i], &b.profiles[i]
		*e = p.equations(&fits[i], m, &b.room)
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
		sum.a[r][r] = stiffness*sum.a[r][r] + leastWeight // a little stiffness
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
