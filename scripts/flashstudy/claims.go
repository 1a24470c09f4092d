package main

import (
	"math"

	"leadmark/scripts/claim"
)

// claims holds what docs/method.md claims of frames of two flashes. In short, of few frames, all classes
// are held together, and chance is allowed more.
func claims(all []outcome, short bool) *claim.Study {
	s := new(claim.Study)
	both := claim.Those(all, func(x *outcome) bool { return x.class != oneFlash })
	one := claim.Those(all, func(x *outcome) bool { return x.class == oneFlash })
	chance := 1.0
	if short {
		chance = 4
		hold(s, "all", both, chance)
	} else {
		for _, class := range classes() {
			if class != oneFlash {
				hold(s, class, claim.Those(both, func(x *outcome) bool { return x.class == class }), chance)
			}
		}
	}
	read := claim.Those(both, func(x *outcome) bool { return x.why == "" && x.read })
	s.Hold("wrong", claim.ShareOf(read, (*outcome).wrong), claim.AtMost(0.03).Within(0.06*chance))
	s.Hold("read where one flash fired", claim.ShareOf(one, isRead), claim.AtMost(0.01).Within(0.16*chance))
	return s
}

// hold holds the frames of a class; chance is how many times less well than from 24 frames a figure may
// be known.
func hold(s *claim.Study, class string, of []outcome, chance float64) {
	readable := claim.Those(of, func(x *outcome) bool { return x.why == "" })
	s.LeftOut("not readable by the scene, "+class, len(of)-len(readable), len(of), 0.35)
	s.Hold("read, "+class, claim.ShareOf(readable, isRead), claim.AtLeast(0.85).Within(0.25*chance))
	read := claim.Those(readable, isRead)
	s.Hold("movement, median, "+class, claim.Quantile(0.5, claim.Sizes(claim.Values(read,
		func(x *outcome) float64 { return x.moved }))).In("mm", 1), claim.AtMost(0.01))
	right := claim.Those(read, func(x *outcome) bool { return !x.wrong() })
	s.LeftOut("wrong, not in error over u, "+class, len(read)-len(right), len(read), 0.1)
	s.Hold("movement over its u, "+class, claim.Spread(claim.Values(right, (*outcome).ratio)),
		claim.Between(0.7, 1.3).Within(0.65*chance))
}

func isRead(x *outcome) bool { return x.read }

// wrong says whether a reading is off by more than half a graduation, or the movement by more than
// a quarter of one.
func (x *outcome) wrong() bool {
	return x.read && !(x.scale < x.graduation/2 && math.Abs(x.moved) < x.graduation/4)
}

// ratio is the movement's error over its stated uncertainty; NaN where none is stated.
func (x *outcome) ratio() float64 {
	if !(x.u > 0) {
		return math.NaN()
	}
	return x.moved / x.u
}
