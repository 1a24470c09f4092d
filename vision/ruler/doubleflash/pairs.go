package doubleflash

import (
	"math"
	"sort"

	"leadmark/vision/ruler"
)

const (
	mostPairs = 4   // pairs of edges fitted
	leastMove = 0.6 // graduations: edges closer than that cannot be told apart
)

// pair is a pair of edges across the ruler that may be its front end as two flashes show it,
// and where the fit of the combs begins for it.
type pair struct {
	rear, lead ruler.Step
	start      start
	weight     float64
}

// pairs lists the edges, alike in sense, that lie as far apart as the combs, up to whole periods
// of the pattern, and where front_mm says; the likeliest first.
func (f *fitter) pairs() []pair {
	var all []pair
	swapped := f.start
	swapped.x, swapped.d = f.start.x+f.start.d, -f.start.d
	for _, a := range f.row.Steps {
		for _, b := range f.row.Steps {
			w := f.weight(a, b)
			if w == 0 {
				continue
			}
			for _, s := range []start{f.start, swapped} {
				if p := (pair{a, b, s, w}); f.suits(&p) {
					all = append(all, p)
				}
			}
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].weight > all[j].weight })
	return all[:min(len(all), mostPairs)]
}

// weight says how well two edges may be the two front ends, 0 where they cannot.
func (f *fitter) weight(rear, lead ruler.Step) float64 {
	last := f.row.Marks[len(f.row.Marks)-1].T
	if f.forward < 0 {
		last = f.row.Marks[0].T
	}
	apart := f.forward * (f.index(lead.T) - f.index(rear.T))
	beyond := f.forward * (f.index(lead.T) - f.index(last))
	lo, hi := math.Abs(rear.Contrast), math.Abs(lead.Contrast)
	if lo > hi {
		lo, hi = hi, lo
	}
	if apart < leastMove || apart > mostMove || rear.Contrast*lead.Contrast <= 0 || lo < hi/6 ||
		beyond < -ruler.StrayMarks || beyond > ruler.EndReach {
		return 0
	}
	return lo * rear.Coherent * lead.Coherent / (1 + 0.05*max(0, beyond))
}

// suits brings a pair's start to the whole period nearest to its edges, and weighs how well they agree.
func (f *fitter) suits(p *pair) bool {
	period := float64(f.pattern.Classes[0].Period)
	apart := f.index(p.lead.T) - f.index(p.rear.T)
	p.start.d += period * math.Round((apart-p.start.d)/period)
	p.start.gain = min(3, max(1.0/3, math.Abs(p.lead.Contrast/p.rear.Contrast)))
	off := apart - p.start.d
	if math.Abs(off) > 1 || p.start.d*f.forward <= 0 {
		return false
	}
	p.weight *= math.Exp(-0.5 * math.Pow(off/0.4, 2))
	if f.spec.Front != nil {
		front := f.index(p.rear.T) - p.start.x + f.forward**f.spec.Front/f.pattern.Graduation
		// the longest lines and the second longest are told apart later
		front -= period / 2 * math.Round(2*front/period)
		p.weight *= max(1e-3, math.Exp(-0.5*math.Pow(front/0.5, 2)))
	}
	return true
}
