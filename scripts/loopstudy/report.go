package main

import (
	"fmt"
	"io"

	"leadmark/scripts/claim"
)

// promised is the share that a plan states.
const promised = 0.95

// leastAtOne is what a second reach holds of animals of any one speed, on average over loops.
const leastAtOne = 0.92

// claims are those that docs/check.md makes of the loop. The first fresh animal of each loop counts
// once, so that the loops are independent and its interval is exact.
func (s *study) claims() *claim.Study {
	c := &claim.Study{}
	var all, drawn tally
	for i, ratio := range ratios {
		got := s.simulated[i]
		c.Hold(fmt.Sprintf("speed %.2f of the planned: share inside the second reach", ratio), claim.Mean(got.second),
			claim.Between(leastAtOne, promised+0.02).Within(0.1))
		all, drawn = all.with(got), drawn.with(s.drawn[i])
	}
	n := len(all.second)
	c.Hold("share inside the first reach: there is something to learn", claim.Mean(all.first), claim.AtMost(0.8))
	c.Hold("share inside the second reach", claim.Mean(all.second),
		claim.Between(promised-0.005, promised+0.015).Within(0.03))
	c.Hold("first fresh animal inside the second reach", claim.Share(all.held, n),
		claim.Between(promised-0.005, promised+0.015).Within(0.2))
	c.Hold("a loop that holds less than nine others do", claim.Quantile(0.1, all.second), claim.AtLeast(0.85))
	c.Hold("share that a second reach states, least", claim.Quantile(0, all.stated), claim.AtLeast(promised-1e-6))
	c.Hold("share that a second reach states, most", claim.Quantile(1, all.stated), claim.AtMost(promised+1e-6))
	c.Hold("area of the second reach over that by the truth, median", claim.Quantile(0.5, all.size),
		claim.Between(0.9, mostSize))
	c.Hold("area of the second reach over that by the truth, mean", claim.Mean(all.size), claim.Between(0.9, mostSize))
	c.LeftOut("loops with fewer than 5 noses in their pictures", all.few, n+all.few, 0.05)
	if m := len(drawn.second) + drawn.few; m > 0 {
		s.claimsOfPictures(c, drawn, m)
	}
	for _, e := range s.errors {
		c.Failed(e.loop, e.err)
	}
	return c
}

// mostSize is how much larger than by the truth the second reach may be on average: what it costs to
// have learned from 8 to 60 frames.
const mostSize = 1.4

func (s *study) claimsOfPictures(c *claim.Study, drawn tally, loops int) {
	c.Hold("with pictures: share inside the second reach", claim.Mean(drawn.second),
		claim.Between(promised-0.005, promised+0.015).Within(0.04))
	c.LeftOut("with pictures: loops with fewer than 5 noses in them", drawn.few, loops, 0.2)
	const mm = 1e-3
	along, up := s.noseAlong, s.noseUp
	c.Hold("error of the check's noses along the way, 95 % of them", claim.Quantile(0.95, claim.Sizes(along)).In("mm", mm),
		claim.AtMost(0.5))
	c.Hold("error of the check's noses in height, 95 % of them", claim.Quantile(0.95, claim.Sizes(up)).In("mm", mm),
		claim.AtMost(1.5))
	c.LeftOut("noses in the pictures that the check does not place", max(0, s.shown-len(along)), s.shown, 0.2)
}

// report prints what the loops came to at each ratio, and the claims.
func (s *study) report(w io.Writer, claims *claim.Study) error {
	for i, ratio := range ratios {
		got := s.simulated[i].with(s.drawn[i])
		_, err := fmt.Fprintf(w, "true/planned speed %.2f: inside the first reach %.3f, inside the second %.3f, "+
			"its area %.2f of that by the truth\n", ratio,
			claim.Mean(got.first).Value, claim.Mean(got.second).Value, claim.Mean(got.size).Value)
		if err != nil {
			return err
		}
	}
	return claims.Print(w)
}

func (t tally) with(o tally) tally {
	join := func(a, b []float64) []float64 { return append(append([]float64(nil), a...), b...) }
	return tally{join(t.first, o.first), join(t.second, o.second), t.held + o.held, join(t.size, o.size),
		join(t.stated, o.stated), t.few + o.few}
}
