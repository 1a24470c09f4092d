package main

import (
	"math"
	"slices"

	"leadmark/scripts/claim"
)

// results are what looking at many drawn frames came to.
type results struct {
	frames, alone   []outcome
	empty, notEmpty int
	failed          []failure
}

type failure struct {
	name string
	err  error
}

func (r *results) fail(name string, err error) { r.failed = append(r.failed, failure{name, err}) }

func (r *results) add(s results) {
	r.frames, r.alone = append(r.frames, s.frames...), append(r.alone, s.alone...)
	r.empty, r.notEmpty = r.empty+s.empty, r.notEmpty+s.notEmpty
	r.failed = append(r.failed, s.failed...)
}

// study holds what docs/check.md promises against what came out. chance is how many times further
// than in sixty sets a figure may be known, for a study of few.
func (r *results) study(width int, chance float64) *claim.Study {
	s := new(claim.Study)
	for _, f := range r.failed {
		s.Failed(f.name, f.err)
	}
	within := func(l claim.Limit, v float64) claim.Limit { return l.Within(v * chance) }
	seen := claim.Those(r.frames, func(o *outcome) bool { return !o.little })
	s.LeftOut("less than a tenth of the animal is drawn", len(r.frames)-len(seen), len(r.frames), 0.05)
	s.Hold("found", claim.ShareOf(seen, func(o *outcome) bool { return o.found }), within(claim.AtLeast(0.99), 0.05))
	s.Hold("as many as drawn", claim.ShareOf(seen, func(o *outcome) bool { return o.number }), within(claim.AtLeast(0.99), 0.05))
	s.Hold("empty frames with an animal, or refused", claim.Share(r.notEmpty, r.empty), within(claim.AtMost(0.01), 0.1))
	off := claim.Values(seen, func(o *outcome) float64 { return 1 - o.overlap })
	s.Hold("outline, median of what does not overlap", claim.Quantile(0.5, off), within(claim.AtMost(0.05), 0.01))
	s.Hold("outline, 95 % overlap but for", claim.Quantile(0.95, off), within(claim.AtMost(0.13), 0.04))
	s.Hold("whole, or cut by which sides", claim.ShareOf(seen, func(o *outcome) bool { return o.sides }),
		within(claim.AtLeast(0.99), 0.05))

	whole := claim.Those(seen, func(o *outcome) bool { return o.whole })
	s.LeftOut("cut, so without nose and blur to judge", len(seen)-len(whole), len(seen), 0.3)
	nose := claim.Values(whole, func(o *outcome) float64 { return math.Abs(o.nose) })
	s.Hold("nose off, median", claim.Quantile(0.5, nose).In("px", 1), within(claim.AtMost(1), 0.4))
	s.Hold("nose off, 95 %", claim.Quantile(0.95, nose).In("px", 1), within(claim.AtMost(5), 4))
	s.Hold("motion blur to 15 % or 0.5 px", claim.ShareOf(whole, (*outcome).motionRight), within(claim.AtLeast(0.86), 0.08))
	s.Hold("Gaussian to 15 % or 0.5 px", claim.ShareOf(whole, (*outcome).blurRight), within(claim.AtLeast(0.95), 0.08))
	holdCauses(s, whole, r.alone, width, within)
	return s
}

// holdCauses holds whether frames are said to be sharp, or why not.
func holdCauses(s *claim.Study, whole, alone []outcome, width int, within func(claim.Limit, float64) claim.Limit) {
	right := func(o *outcome) bool { return o.seenCause == o.cause }
	of := func(list []outcome, causes ...string) []outcome {
		return claim.Those(list, func(o *outcome) bool { return slices.Contains(causes, o.cause) })
	}
	s.Hold("sharp, and said so", claim.ShareOf(of(whole, ""), right), within(claim.AtLeast(0.9), 0.2))
	s.Hold("not sharp, and why", claim.ShareOf(of(whole, "focus", "motion", "shake"), right), within(claim.AtLeast(0.93), 0.08))
	plain := claim.Those(whole, func(o *outcome) bool { return o.clear(width) })
	s.Hold("sharp or why not, where that is plain", claim.ShareOf(plain, right), within(claim.AtLeast(0.95), 0.08))
	for _, cause := range []string{"focus", "motion", "shake"} {
		s.Hold("one blur alone: "+cause, claim.ShareOf(of(alone, cause), right), within(claim.AtLeast(0.95), 0.25))
	}
	s.Hold("one blur alone, and sharp", claim.ShareOf(of(alone, ""), right), within(claim.AtLeast(0.95), 0.25))
}
