package doubleflash

import (
	"cmp"
	"math"
	"slices"

	"leadmark/vision/ruler"
	"leadmark/vision/ruler/scale"
)

// Fit looks for two images of the ruler in a row's face: two front ends, and two combs of
// lines as far apart. nil where there are none, or the spec does not say which way the front end points.
func Fit(row ruler.Row, face Face, spec ruler.Spec) *ruler.TwinRow {
	l, ok := scale.Fit(row.Marks)
	s := search{row: row, face: face, spec: spec, forward: float64(spec.Forward(row.Dir))}
	if !ok || !(face.Step > 0) {
		return nil
	}
	// near the front end one of the flashes may show no lines
	lo, hi := row.Marks[0].T, row.Marks[len(row.Marks)-1].T
	if cut := min(unsafePitches*row.Pitch, unsafePart*(hi-lo)); s.forward > 0 {
		hi -= cut
	} else {
		lo += cut
	}
	if s.safe, ok = face.part(lo, hi, evened*row.Pitch); !ok {
		return nil
	}
	best, ok := s.best(s.combs(s.safe.straighten(l)))
	if !ok {
		return nil
	}
	return s.result(best)
}

// search is one for two images in one row.
type search struct {
	row     ruler.Row
	face    Face
	spec    ruler.Spec
	forward float64 // +1: the front end lies towards rising T
	safe    part    // where both flashes surely show lines
}

// found is a comb with a pair of front ends.
type found struct {
	comb
	pair
	cost  float64
	doubt float64 // variance of the movement, by what the picture might be likewise
	fit   *fitted
}

// apart is how far the front ends lie from each other, graduations.
func (f *found) apart() float64 { return f.Index(f.lead.T) - f.Index(f.rear.T) }

// apartU is how far that may differ from what the lines moved.
func (f *found) apartU() float64 {
	return math.Hypot(endsOff, math.Hypot(f.rear.U, f.lead.U)/f.Pitch(f.Mid))
}

// combs are the combs to begin with: those of the patterns that may be, with one or two of the row's
// pitches to a graduation, for two combs half a pitch apart look like one of half the pitch.
func (s *search) combs(l scale.ByIndex) (out []comb) {
	for stride := 1.0; stride <= 2; stride++ {
		c := comb{ByIndex: l, width: math.Log(usualWidth), blur: math.Log(usualBlur)}
		c.Mid, c.Half = l.Mid/stride, l.Half/stride
		if !(math.Abs(c.Index(s.safe.t[0])-c.Index(s.safe.t[len(s.safe.t)-1])) > fewest) {
			break
		}
		for _, p := range scale.Patterns() {
			if c.pattern = p; s.spec.Graduation == 0 || scale.IsStated(p.Graduation, s.spec) {
				out = append(out, c)
			}
		}
	}
	return out
}

// best fits the likeliest combs, and returns the one that with its front ends is surely likelier than any
// other, and than one flash alone.
func (s *search) best(combs []comb) (*found, bool) {
	single := found{cost: math.Inf(1)}
	var all []*found
	for _, c := range combs {
		folded := c.fold(s.safe)
		for x, cost := range folded.costs(0, 0) {
			if cost < single.cost {
				single = found{comb: c.laid(x), cost: cost}
			}
		}
		for _, a := range s.coarse(c, folded) {
			all = append(all, s.withEnds(a)...)
		}
	}
	one, ok := single.comb.fit(s.safe)
	if !ok || len(all) == 0 {
		return nil, false
	}
	best := slices.MinFunc(all, func(a, b *found) int { return cmp.Compare(a.cost, b.cost) })
	for _, a := range all {
		apart := math.Abs(a.moved/a.Half*best.Half - best.moved)
		likely := math.Exp(best.cost - a.cost)
		switch {
		case apart+math.Abs(best.Index(a.rear.T)-best.Index(best.rear.T)) < differ:
			best.doubt = max(best.doubt, apart*apart*likely/(1+likely))
		case a.cost-best.cost < sure:
			return nil, false
		}
	}
	return best, one.cost-best.fit.cost > sure && max(best.gain, 1/best.gain) < mostGain
}

// laid is the comb with its line 0 at one of the places it was folded to.
func (c comb) laid(place int) comb {
	c.Mid -= float64(place) / coarseParts
	return c
}

// coarse finds the likeliest combs for pairs of front ends, one in each half graduation of the movement:
// the picture looks the same from both sides of a whole graduation and of a half one.
func (s *search) coarse(c comb, f folded) (out []*found) {
	pairs, by := s.pairs(c), map[int]*found{}
	for d := range len(f.lines[0][0]) {
		for _, gain := range []float64{1 / coarseGain, coarseGain} {
			var costs []float64
			for _, p := range pairs {
				a := found{comb: c, pair: p}
				a.gain = gain
				if !a.move(float64(d) / coarseParts) {
					continue
				}
				if costs == nil {
					costs = f.costs(d, gain)
				}
				for x, cost := range costs {
					a.Mid = c.laid(x).Mid
					a.cost = cost + s.disagree(&a)
					if half := 2 * d / coarseParts; by[half] == nil || a.cost < by[half].cost {
						keep := a
						by[half] = &keep
					}
				}
			}
		}
	}
	for _, a := range by {
		out = append(out, a)
	}
	slices.SortFunc(out, func(a, b *found) int { return cmp.Compare(a.cost, b.cost) })
	return out[:min(len(out), mostFits)]
}

// move sets how far the lines moved, given up to whole periods, to what is nearest to the front ends;
// false where that is too far from them.
func (f *found) move(d float64) bool {
	period := float64(f.pattern.Classes[0].Period)
	f.moved = d + period*math.Round((f.apart()-d)/period)
	return math.Abs(f.apart()-f.moved) < agree && math.Abs(f.moved) > leastMove
}

// withEnds fits a comb and the one that looks like it, and joins them with each pair of front ends that
// they suit.
func (s *search) withEnds(a *found) (out []*found) {
	fit, ok := a.comb.fit(s.safe)
	if !ok {
		return nil
	}
	fits := []*fitted{fit}
	if other, ok := fit.mirrored().fit(s.safe); ok {
		fits = append(fits, other)
	}
	for _, fit := range fits {
		for _, p := range s.pairs(fit.comb) {
			f := &found{comb: fit.comb, pair: p, fit: fit}
			if !f.move(f.moved) {
				continue
			}
			if ends := s.ends(f); min(ends[0], ends[1]) >= 0 {
				f.cost = fit.cost + s.disagree(f) - ends[0] - ends[1]
				out = append(out, f)
			}
		}
	}
	return out
}

// disagree is what front ends and lines disagree by, and how faint the ends are, in nats.
func (s *search) disagree(f *found) float64 {
	nats := func(off, sd float64) float64 { return min(off*off/(2*sd*sd), surelyApart) }
	out := nats(f.apart()-f.moved, f.apartU()) - faint*math.Log(f.weight())
	if s.spec.Front != nil {
		d := f.Index(f.rear.T) + s.forward**s.spec.Front/f.pattern.Graduation
		period := float64(f.pattern.Classes[0].Period)
		out += nats(d-period*math.Round(d/period), frontOff)
	}
	return out
}

// result fits the comb once more, up to the first flash's last line.
func (s *search) result(f *found) *ruler.TwinRow {
	blank := 1.0
	if s.spec.Front != nil {
		blank = max(1, 0.5-*s.spec.Front/f.pattern.Graduation)
	}
	end, other := f.Place(f.Index(f.rear.T)-s.forward*blank), s.row.Marks[0].T
	if s.forward < 0 {
		other = s.row.Marks[len(s.row.Marks)-1].T
	}
	p, ok := s.face.part(min(end, other), max(end, other), evened*f.Pitch(f.Index(end)))
	if !ok {
		return nil
	}
	f.fit.plain(p)
	fit, ok := f.comb.fit(p)
	if !ok {
		return nil
	}
	cov, ok := fit.covariance()
	if !ok {
		return nil
	}
	f.comb = fit.comb
	floor := placing / f.Pitch(f.Mid)
	// What front ends and lines disagree by, beyond chance, is doubt about either.
	f.doubt += max(0, math.Pow(f.apart()-f.moved, 2)-math.Pow(f.apartU(), 2))
	u := math.Sqrt(cov.At(pMoved, pMoved) + floor*floor + f.doubt)
	if !(u < mostU) {
		return nil
	}
	return &ruler.TwinRow{Lines: fit.lines(), Moved: f.moved, MovedU: u, Gain: f.gain, Graduation: f.pattern.Graduation,
		Rear: f.rear, Lead: f.lead, Apart: f.apart(), Score: s.safe.none - f.cost}
}
