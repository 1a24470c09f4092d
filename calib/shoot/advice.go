package shoot

import (
	"leadmark/fit/note"
	"maps"
	"math"
	"slices"
	"time"
)

// doubts says what disagrees and what to change.
func (r *Result) doubts() {
	r.scaleDoubt()
	r.lensDoubt()
	several, alike := 0, 0
	for _, f := range r.Frames {
		if f.Animals > 1 {
			several++
		}
		if f.Reason.Code == "alike" {
			alike++
		}
	}
	if several > 0 {
		r.warn(note.Of("several", "shoot", several))
	}
	if alike > 0 {
		r.warn(note.Of("alike", "shoot", alike))
	}
	if !r.Setup.Heights() {
		r.warn(note.New("no-heights"))
	}
	if a := r.Agreement; a != nil && a.P < 0.05 {
		r.advise(note.New("outside-reach", a.Inside, a.N, a.Expected, a.P, a.Gone))
	}
	r.speedAdvice()
	r.sharpAdvice()
}

// scaleDoubt compares the animals' length in the picture with the subject's.
func (r *Result) scaleDoubt() {
	want, n, sum := r.Plan.Request.Subject.Length, 0.0, 0.0
	for _, f := range r.Frames {
		if f.Whole() && f.Animals == 1 {
			b := f.Animal.Box
			sum += math.Max(b[1].X-b[0].X, b[1].Y-b[0].Y) / r.Setup.Scale
			n++
		}
	}
	if n < 3 {
		return
	}
	if got := sum / n; got > 2*want || got < want/2 {
		r.warn(note.New("scale", got, want))
	}
}

// lensDoubt compares the frames' focal length with that of the rig's profile, to the millimetre as
// cameras write it.
func (r *Result) lensDoubt() {
	const mm = 1e-3
	want, other := r.Plan.Request.Rig.Lens.Focal, map[float64]int{}
	for _, f := range r.Frames {
		if got := f.Frame.Focal; got > 0 && want > 0 && math.Abs(got-want) > mm {
			other[math.Round(got/mm)]++
		}
	}
	for _, got := range slices.Sorted(maps.Keys(other)) {
		r.warn(note.New("other-lens", got*mm, other[got], want))
	}
}

// ageDoubt says where frames are older than the calibration that the plan is made with now: theirs
// was made with another.
func (r *Result) ageDoubt(calibrated time.Time) {
	n := 0
	for _, f := range r.Frames {
		if t := f.Frame.Taken; !t.IsZero() && t.Before(calibrated) {
			n++
		}
	}
	if n > 0 {
		r.warn(note.New("older-plan", calibrated.Format(time.DateOnly), n))
	}
}

// speedAdvice says how far aim, beam or delay must move where the speed learned is not the plan's.
func (r *Result) speedAdvice() {
	l, s := r.Learned, r.Plan.Request.Subject
	if l == nil || s.Speed >= l.Speed95[0] && s.Speed <= l.Speed95[1] {
		return
	}
	tau := r.Plan.Request.Lag.Mean + r.Plan.Delay
	shift := (l.Speed - s.Speed) * tau
	low, high, by := l.Speed95[0], l.Speed95[1], math.Abs(shift)
	if cut := tau * (1 - s.Speed/l.Speed); shift < 0 {
		r.advise(note.Of("other-speed", "slower", l.Speed, low, high, s.Speed, by, tau*(s.Speed/l.Speed-1)))
	} else if cut < r.Plan.Delay {
		r.advise(note.Of("other-speed", "less-delay", l.Speed, low, high, s.Speed, by, cut))
	} else {
		r.advise(note.Of("other-speed", "faster", l.Speed, low, high, s.Speed, by))
	}
}

// asFocused says whether so many of n frames in focus are what a plan's share lets expect, or more.
func asFocused(k, n int, share float64) bool {
	const rare = 0.05
	return float64(k) >= share*float64(n) || BinomialP(k, n, share) >= rare
}

// sharpAdvice names the cause of most unsharp frames.
func (r *Result) sharpAdvice() {
	count, measured, unsharp := map[string]int{}, 0, 0
	for _, f := range r.Frames {
		if f.Measured {
			measured++
			if !f.Sharp {
				unsharp++
				count[f.Cause]++
			}
		}
	}
	if measured == 0 || 10*unsharp < 3*measured {
		return
	}
	most := CauseFocus
	for _, c := range []string{CauseMotion, CauseShake} {
		if count[c] > count[most] {
			most = c
		}
	}
	if c := r.Plan.Chance; most == CauseFocus && c != nil && c.InFocus != nil &&
		asFocused(measured-count[CauseFocus], measured, c.InFocus.P) {
		r.advise(note.Of("not-sharp", "as-planned", unsharp, measured, c.InFocus.P))
		return
	}
	r.advise(note.Of("not-sharp", most, unsharp, measured))
}
