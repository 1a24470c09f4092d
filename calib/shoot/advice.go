package shoot

import (
	"fmt"
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
		r.warn("several",
			fmt.Sprintf("%d frames show more than one animal: nothing is learned from their leads",
				several))
	}
	if alike > 0 {
		r.warn("alike",
			fmt.Sprintf("in %d frames the animal is of nearly the backdrop's colour: use another backdrop",
				alike))
	}
	if !r.Setup.Heights() {
		r.warn("no-heights",
			"heights are not judged: state the middle of the opening in shoot.toml as exit_px = "+
				"[x, y]; the travel must be left or right")
	}
	if a := r.Agreement; a != nil && a.P < 0.05 {
		r.Advice = append(r.Advice,
			fmt.Sprintf("The plan did not hold: %d of %d animals were inside the reach, where "+
				"%.0f %% were to be expected; chance alone gives so odd a number in %s of shoots.%s",
				a.Inside, a.N, 100*a.Expected, PercentText(a.P), goneDoubt(a.Gone)))
	}
	r.speedAdvice()
	r.sharpAdvice()
}

// goneDoubt is what a share inside the reach rests on where frames show no animal.
func goneDoubt(gone int) string {
	if gone == 0 {
		return ""
	}
	return fmt.Sprintf(" Of those outside, %d are frames that show no animal: see the warning gone.",
		gone)
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
		r.warn("scale",
			fmt.Sprintf("the animals are %.1f mm long in the pictures, the subject %.1f mm: is "+
				"the scale of another camera place, or the subject another?",
				got*1e3, want*1e3))
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
		r.warn("other-lens",
			fmt.Sprintf("frames taken at a focal length of %.0f mm: %d; the rig's profile has "+
				"%.4g mm, with which framing, focus and light were planned: put the right one "+
				"into rig.toml, or use the lens that was planned with",
				got, other[got], want/mm))
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
		r.warn("older-plan",
			fmt.Sprintf("frames taken before the calibration in force was accepted (%s): %d; the "+
				"shoot was planned with an older one, and is held here against the plan as it "+
				"would be made now",
				calibrated.Format(time.DateOnly), n))
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
	way, delay := "further from", ""
	if shift < 0 {
		way, delay = "nearer to", fmt.Sprintf(", or add %.1f ms of delay",
			tau*(s.Speed/l.Speed-1)*1e3)
	} else if cut := tau * (1 - s.Speed/l.Speed); cut < r.Plan.Delay {
		delay = fmt.Sprintf(", or take %.1f ms off the added delay", cut*1e3)
	} else {
		delay = fmt.Sprintf(", or set the beam back by %.1f mm", shift*1e3)
	}
	r.Advice = append(r.Advice,
		fmt.Sprintf("The animals moved at %.3g m/s (%.3g to %.3g), not at the planned %.3g m/s: "+
			"aim %.1f mm %s the trip point%s. --learn writes this to a new subject file to plan "+
			"with. A lag that is off by the same share would look alike: calibrate again if you doubt it.",
			l.Speed, l.Speed95[0], l.Speed95[1], s.Speed, math.Abs(shift)*1e3, way, delay))
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
		r.Advice = append(r.Advice,
			fmt.Sprintf("%d of %d frames are not sharp, about as many as the plan expects, which "+
				"has %.0f %% in focus: nothing is wrong with the focus. What would give more of "+
				"them, leadmark plan says under \"What changes the chance most\".",
				unsharp, measured, 100*c.InFocus.P))
		return
	}
	do := map[string]string{
		CauseFocus:  "focus lies elsewhere, or the aperture is too wide for the depth",
		CauseMotion: "the flash lasts too long for the speed: use less power, nearer",
		CauseShake:  "the camera or the set moved: fix both, and keep other light out of the exposure",
	}[most]
	r.Advice = append(r.Advice, fmt.Sprintf("%d of %d frames are not sharp, most by %s: %s.",
		unsharp, measured, most, do))
}
