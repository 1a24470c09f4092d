package plan

import (
	"math"

	"leadmark/calib/plan/reach"
)

// Chance is what one trip gives, each with the standard error of the drawing. Nil stands for what
// cannot be told.
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
	return s.Count(func(i int) bool {
		return s.Pace[i] <= k.stop && k.sharp(s, i) &&
			k.frame.whole(s, i)
	})
}

// stopPace is the fastest pace that a flash freezes to a blur c.
func stopPace(t01, m, c float64) float64 { return c / (t01 * m) }

// chances counts what the trips give; known says whether the flash's duration is.
func (k settings) chances(s *reach.Sample, known bool) *Chance {
	all := s.Counts(8, func(i int, yes []bool) {
		over := k.frame.over(s, i)
		yes[0] = max(over[0], over[1], over[2], over[3]) <= 0
		yes[1] = k.sharp(s, i)
		yes[2] = s.Pace[i] <= k.stop
		yes[3] = yes[0] && yes[1] && yes[2]
		for side, o := range over {
			yes[4+side] = o > 0
		}
	})
	c := &Chance{InField: &all[0], InFocus: &all[1], Keeper: &all[3],
		Clips: [4]reach.Share(all[4:])}
	if known {
		c.Frozen = &all[2]
	} else {
		c.Keeper, c.AtMost = nil, &all[3]
	}
	return c
}

// TripsFor is how many trips bring one keeper or more with confidence q when each does with chance
// p: the least n with 1 - (1-p)^n >= q, ceil(ln(1-q)/ln(1-p)). It returns 0 where no number of
// trips will do.
func TripsFor(p, q float64) int {
	switch {
	case p <= 0:
		return 0
	case p >= q:
		return 1
	}
	return int(math.Ceil(math.Log1p(-q)/math.Log1p(-p) - 1e-9))
}
