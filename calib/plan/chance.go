package plan

import (
	"math"

	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/reach"
	"leadmark/calib/plan/subject"
)

// Chance is what one trip gives, each with the standard error of the drawing. Nil stands for what cannot be told.
type Chance struct {
	InField, InFocus, Frozen *reach.Share
	Keeper                   *reach.Share   // all three
	AtMost                   *reach.Share   // the keeper, as far as is known, where Frozen is not
	Clips                    [4]reach.Share // that the body is cut off behind, ahead, below, above
}

// settings is what the chance of a trip depends on besides the trip itself.
type settings struct {
	frame     window
	far, near float64 // depth of field
	nose      bool    // only the nose must be in focus
	stop      float64 // m/s, the pace up to which motion is frozen; Inf where unknown
}

func (k settings) sharp(s *reach.Sample, i int) bool {
	if k.nose {
		return s.Mid[i] >= k.far && s.Mid[i] <= k.near
	}
	return s.Far[i] >= k.far && s.Near[i] <= k.near
}

// keeper is the share of trips that are whole, in focus and frozen.
func (k settings) keeper(s *reach.Sample) reach.Share {
	return s.Count(func(i int) bool { return s.Pace[i] <= k.stop && k.sharp(s, i) && k.frame.whole(s, i) })
}

// stopPace is the fastest pace that a flash freezes to a blur c.
func stopPace(t01, m, c float64) float64 { return c / (t01 * m) }

// settingsOf are the settings of a plan; known says whether the flash's duration is.
func (w *work) settingsOf() (k settings, known bool) {
	k = settings{frame: w.framing.window(), far: w.focused.Far, near: w.focused.Near, nose: w.req.Subject.FocusOn == subject.FocusNose, stop: math.Inf(1)}
	if w.light != nil && w.light.Longest != nil {
		k.stop, known = stopPace(w.light.Longest.T01, w.framing.Optics.Magnification, w.focused.Limit), true
	}
	return k, known
}

// chance counts what the trips give.
func (w *work) chance() {
	k, known := w.settingsOf()
	all := w.set.Counts(8, func(i int, yes []bool) {
		over := k.frame.over(w.set, i)
		yes[0] = max(over[0], over[1], over[2], over[3]) <= 0
		yes[1] = k.sharp(w.set, i)
		yes[2] = w.set.Pace[i] <= k.stop
		yes[3] = yes[0] && yes[1] && yes[2]
		for side, o := range over {
			yes[4+side] = o > 0
		}
	})
	w.chances = &Chance{InField: &all[0], InFocus: &all[1], Keeper: &all[3], Clips: [4]reach.Share(all[4:])}
	if known {
		w.chances.Frozen = &all[2]
	} else {
		w.chances.Keeper, w.chances.AtMost = nil, &all[3]
	}
}

// TripsFor is how many trips bring one keeper or more with confidence q when each does with chance p: the least n with
// 1 - (1-p)^n >= q, ceil(ln(1-q)/ln(1-p)). It returns 0 where no number of trips will do.
func TripsFor(p, q float64) int {
	switch {
	case p <= 0:
		return 0
	case p >= q:
		return 1
	}
	return int(math.Ceil(math.Log1p(-q)/math.Log1p(-p) - 1e-9))
}

// Change is a small change of the set and what it does to the chance of a keeper.
type Change struct {
	Text   string
	Keeper float64
	Gain   float64 // over the plan, drawn with the same trips
}

// changeDraws is from how many trips each change is judged.
const changeDraws = 1 << 14

// change is one thing to try: nil where it cannot be had.
type change struct {
	text    string
	subject subject.Subject
	law     predict.Law
	k       settings
}

// changes judges small changes by trips drawn from the same numbers, so that their differences are sharp.
func (w *work) changes() []Change {
	base := change{subject: w.req.Subject, law: w.req.Lag}
	base.k, _ = w.settingsOf()
	same := w.model.Sample(changeDraws, w.opt.Seed, 5)
	w.drawn += same.Total()
	before := base.k.keeper(same).P
	var all []Change
	for _, c := range w.tries(base) {
		s := same
		if !sameTrips(c, base) {
			s = w.model.With(c.subject, c.law).Sample(changeDraws, w.opt.Seed, 5)
			w.drawn += s.Total()
		}
		p := c.k.keeper(s).P
		all = append(all, Change{c.text, p, p - before})
	}
	sortByGain(all)
	return all
}

func sameTrips(a, b change) bool {
	x, y := a.subject, b.subject
	return a.law == b.law && x.Exit == y.Exit && x.ElevationSD == y.ElevationSD && x.AzimuthSD == y.AzimuthSD
}

func sortByGain(all []Change) {
	for i := range all {
		for j := i; j > 0 && all[j].Gain > all[j-1].Gain; j-- {
			all[j], all[j-1] = all[j-1], all[j]
		}
	}
}
