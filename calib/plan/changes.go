package plan

import (
	"math"

	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/fit/note"
)

// Change is a small change of the set and what it does to the chance of a keeper.
type Change struct {
	Note   note.Note // what is changed
	Keeper float64
	Gain   float64 // over the plan, drawn with the same trips
}

// changeDraws is from how many trips each change is judged.
const changeDraws = 1 << 14

// change is one thing to try: nil where it cannot be had.
type change struct {
	what    note.Note
	subject subject.Subject
	law     predict.Law
	k       settings
}

// changes judges small changes by trips drawn from the same numbers, so that their differences are
// sharp.
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
		all = append(all, Change{c.what, p, p - before})
	}
	sortByGain(all)
	return all
}

func sameTrips(a, b change) bool {
	x, y := a.subject, b.subject
	return a.law == b.law && x.Exit == y.Exit && x.ElevationSD == y.ElevationSD &&
		x.AzimuthSD == y.AzimuthSD
}

func sortByGain(all []Change) {
	for i := range all {
		for j := i; j > 0 && all[j].Gain > all[j-1].Gain; j-- {
			all[j], all[j-1] = all[j-1], all[j]
		}
	}
}

// tries lists the small changes there are: of the picture, of the light, and of the set.
func (w *work) tries(base change) []change {
	all := w.pictureTries(base)
	if l := w.req.Lag; l.Spread > 0 && l.Scale > 0 {
		c := base
		c.what = note.Of("change", "spread")
		c.law.Scale *= math.Hypot(l.Spread/2, l.MeanU) / math.Hypot(l.Spread, l.MeanU)
		all = append(all, c)
	}
	if s := w.req.Subject; s.ElevationSD > 0 || s.AzimuthSD > 0 {
		c := base
		c.what = note.Of("change", "heading")
		c.subject.ElevationSD /= 2
		c.subject.AzimuthSD /= 2
		all = append(all, c)
	}
	if s := w.req.Subject; s.Exit[0] > 0 || s.Exit[1] > 0 {
		c := base
		c.what = note.Of("change", "opening")
		c.subject.Exit = [2]float64{s.Exit[0] / 2, s.Exit[1] / 2}
		all = append(all, c)
	}
	return all
}

func (w *work) pictureTries(base change) []change {
	var all []change
	c := base
	wider := w.framing
	wider.widen(w.framing.Optics.Magnification / 1.1)
	c.what, c.k = note.Of("change", "field"), w.settingsWith(wider, w.focused.Optics.FNumber, 0, base.k)
	all = append(all, c)
	for _, stop := range []float64{1, -1} {
		n := w.focused.Optics.FNumber * math.Exp2(stop/2)
		if r := w.req.Rig.Lens.FNumber; r[0] > 0 && (n < r[0]*0.97 || n > r[1]*1.03) {
			continue
		}
		k := w.settingsWith(w.framing, n, stop, base.k)
		if math.IsNaN(k.stop) {
			continue
		}
		c := base
		o := w.focused.Optics
		o.FNumber = n
		c.what, c.k = note.Of("change", "flash-up", MarkedFNumber(n), o.Diffraction()), k
		if stop < 0 {
			c.what = note.Of("change", "flash-down", MarkedFNumber(n), o.Diffraction())
		}
		all = append(all, c)
	}
	if n := w.focused.Optics.FNumber * math.Sqrt2; w.light != nil &&
		(w.req.Rig.Lens.FNumber[1] == 0 || n <= w.req.Rig.Lens.FNumber[1]*1.03) {
		o := w.focused.Optics
		o.FNumber = n
		c := base
		c.what = note.Of("change", "iso-up", MarkedFNumber(n), o.Diffraction())
		c.k = w.settingsWith(w.framing, n, 0, base.k)
		all = append(all, c)
	}
	for _, stops := range []float64{1, 2} {
		k := w.settingsWith(w.framing, w.focused.Optics.FNumber, -stops, base.k)
		if w.light != nil && !math.IsNaN(k.stop) && !math.IsInf(k.stop, 1) {
			c := base
			c.what, c.k = note.Of("change", "iso-for-flash", stops), k
			all = append(all, c)
		}
	}
	if !base.k.nose {
		c = base
		c.what, c.k.nose = note.Of("change", "nose"), true
		all = append(all, c)
	}
	c = base
	c.what, c.k = note.Of("change", "print"), w.printedSmaller(base.k)
	return append(all, c)
}

// settingsWith are the settings at another field, f-number or power; stop is NaN where the flash's
// duration there is unknown.
func (w *work) settingsWith(f Framing, n, stops float64, base settings) settings {
	o := f.Optics
	o.FNumber = n
	k := base
	k.frame = f.window()
	k.far, k.near = o.DepthOfField(w.focused.Limit)
	if math.IsInf(base.stop, 1) {
		return k
	}
	t01 := w.light.Longest.T01
	if stops != 0 {
		var ok bool
		if t01, ok = w.light.LongestAt(w.req.Rig.Flash, stops); !ok {
			k.stop = math.NaN()
			return k
		}
	}
	k.stop = stopPace(t01, o.Magnification, w.focused.Limit)
	return k
}

func (w *work) printedSmaller(base settings) settings {
	k, o := base, w.focused.Optics
	k.far, k.near = o.DepthOfField(1.5 * w.focused.Limit)
	k.stop *= 1.5
	return k
}
