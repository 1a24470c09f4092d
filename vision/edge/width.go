package edge

import (
	"image"
	"math"
	"slices"

	"leadmark/fit/stat"
	"leadmark/vision/animal"
)

// tenToNinety is 10 to 90 % of a Gaussian's distribution in its standard deviations.
const tenToNinety = 2.5631

// Measure measures the edges at places of an outline, as far as they lie in a part of the picture.
// It is nil where too few are clear.
func Measure(p *Patch, outline []animal.Point, in image.Rectangle, travel animal.Point) *animal.Edges {
	outside := func(e edgePlace) bool { return !image.Pt(int(e.at.X), int(e.at.Y)).In(in) }
	return edgesOf(p, slices.DeleteFunc(placesOn(outline), outside), travel)
}

// edgesOf measures the edges at places of an outline: first each alone with a Gaussian, until
// profiles are as wide as the edges need, then all together with what blurs them. It is nil where
// too few are clear.
func edgesOf(p *Patch, places []edgePlace, travel animal.Point) *animal.Edges {
	wide := tensor{firstWidth, 0, firstWidth}
	var b *blurSearch
	for range windowRounds {
		if b = gather(p, places, wide); len(b.fits) < fewestEdges {
			return nil
		}
		before := wide
		if wide = tensorOf(b.widths()); wide.like(before) {
			break
		}
	}
	var widths []float64
	for i, s := range b.sigmas {
		widths = append(widths, tenToNinety*math.Sqrt(max(leastGauss*leastGauss, s*s-b.profiles[i].known)))
	}
	e := animal.Edges{N: len(widths), Width: stat.Median(widths)}
	guess := b.moving(wide.without(p.blur), travel)
	if again := gather(p, places, guess.reach().with(p.blur)); len(again.fits) >= fewestEdges {
		b = again
	}
	m := b.likeliest(guess, travel)
	e.Blur, e.Motion = m.sigma, math.Ln10*math.Hypot(m.x, m.y)
	if m.moves() {
		e.Direction = animal.Point{X: m.x / math.Hypot(m.x, m.y), Y: m.y / math.Hypot(m.x, m.y)}
	}
	return &e
}

// reach is how wide the edge is at a place, and how far its profile reaches to either side.
func (e edgePlace) reach(wide tensor) (sigma, half float64) {
	sigma = math.Sqrt(max(leastSigma*leastSigma, wide.along(e.inward)))
	return sigma, min(windowSigmas*sigma+2, windowSigmas*widestEdge)
}

// stout are the places that do not lie on thin parts, or all where those are too few.
func stout(places []edgePlace, wide tensor) []edgePlace {
	var out []edgePlace
	for _, e := range places {
		if _, half := e.reach(wide); e.room > thinPart*half {
			out = append(out, e)
		}
	}
	if len(out) < enoughEdges {
		return places
	}
	return out
}

// gather takes the profiles at places whose widths are about known, and fits each with a Gaussian.
func gather(p *Patch, places []edgePlace, wide tensor) *blurSearch {
	b := new(blurSearch)
	for _, e := range stout(places, wide) {
		sigma, half := e.reach(wide)
		q, ok := e.profile(p, half)
		if !ok {
			continue
		}
		if f, ok := q.gaussFit(sigma); ok {
			b.profiles = append(b.profiles, q)
			b.fits = append(b.fits, blurFit{at: f.at, weights: q.weights, constant: -f.lo})
			b.sigmas = append(b.sigmas, f.sigma)
		}
	}
	b.parts = make([]edgeEquations, len(b.fits))
	return b
}

// gaussFit is the fit of one profile by a step between level sides, blurred by a Gaussian.
type gaussFit struct{ at, lo, hi, sigma float64 }

// gaussFit fits a profile, sigma being a guess; ok is false where there is no clear edge.
func (p *edgeProfile) gaussFit(sigma float64) (f gaussFit, ok bool) {
	f = gaussFit{sigma: sigma}
	if f.lo, f.hi, ok = p.sides(); !ok {
		return f, false
	}
	for range edgeRounds {
		n := newNormal(4)
		for _, b := range p.bins {
			t, size := blurredAt(b.s-f.at, f.sigma, 0), f.hi-f.lo
			n.add([edgeUnknowns]float64{-size * t.density, 1 - t.step, t.step, size * t.bySigma},
				b.v-f.lo-size*t.step, b.n)
		}
		d, _, ok := n.solve()
		if !ok {
			return f, false
		}
		f.at += max(-f.sigma, min(f.sigma, d[0]))
		f.lo, f.hi = f.lo+d[1], f.hi+d[2]
		f.sigma = max(leastSigma, min(2*f.sigma, max(f.sigma/2, f.sigma+d[3])))
		if max(math.Abs(d[0]), math.Abs(d[3])) < settled {
			break
		}
	}
	return f, math.Abs(f.at) < offCentre*p.half && f.sigma < p.half && f.hi-f.lo > edgeContrast
}

// sides are the means to either side of the edge.
func (p *edgeProfile) sides() (lo, hi float64, ok bool) {
	var a, b moments
	for _, q := range p.bins {
		switch {
		case q.s < -sideShare*p.half:
			a.add(q.v)
		case q.s > sideShare*p.half:
			b.add(q.v)
		}
	}
	lo, _ = a.mean()
	hi, _ = b.mean()
	return lo, hi, a.n > 0 && b.n > 0
}
