package fit

import (
	"math"

	"leadmark/fit/stat"
)

// told says what the run can tell.
type told struct {
	lag, trip, spread bool
	weakLag           bool // the design would tell it, the readings do not
	noSpare           bool // as many unknowns as shots
	speeds            []bool
}

// identify reads what is estimable from the design's null space, then checks that the lag's
// interval has an end: two speeds that differ by no more than their own uncertainty tell nothing.
func (s *solution) identify() told {
	t := told{lag: s.Estimable(colLag), trip: s.Estimable(colTrip), speeds: make([]bool, len(s.groups))}
	if s.Spare() < 1 || !(s.Best.Info > 1e-6) {
		return told{speeds: t.speeds, noSpare: true}
	}
	t.weakLag = s.heldLag
	if t.lag && !s.bounded() {
		t.lag, t.weakLag = false, true
	}
	free := s.Prior[colTrip] == 0
	if free {
		t.trip = t.trip && !t.weakLag
	} else {
		t.trip = math.Sqrt(s.Best.Cov[colTrip*s.P+colTrip]*s.Prior[colTrip]) < 0.9
	}
	for g := range t.speeds {
		t.speeds[g] = s.Estimable(colSpan + g)
	}
	t.spread = true
	for i := range s.run.Shots {
		g := s.groupOf[i]
		t.spread = t.spread && (g < 0 || t.speeds[g]) && (s.accel(i) == 0 || t.lag)
	}
	return t
}

// farLag is beyond any lag of a rig, in s and in half-widths of the interval.
const (
	farLag  = 2.0
	farHalf = 20.0
)

// bounded tells whether lags far off on both sides are refuted by the readings. The sum of squares
// is taken with the variances of the lag held (as York's), so it levels off where the speeds
// themselves are in doubt: Fieller's (1954) unbounded case, for this model.
func (s *solution) bounded() bool {
	u := math.Sqrt(s.Best.Cov[0])
	df := 2 * sq(s.Best.Cov[0]) * s.Best.Info / sq(s.Best.DCov[0])
	half := stat.T95(math.Max(df, 1)) * u
	span := math.Abs(s.Theta[colLag])
	for _, shot := range s.run.Shots {
		span = math.Max(span, math.Abs(s.Theta[colLag]+shot.Delay))
	}
	if half < 0.05*span {
		return true // far from any trouble
	}
	limit := s.Best.Q + sq(stat.T95(math.Max(df, 1)))
	far := math.Max(farLag, farHalf*half)
	return s.heldAt(colLag, s.Theta[colLag]+far) > limit && s.heldAt(colLag, s.Theta[colLag]-far) > limit
}

// heldAt is the least weighted sum of squares with unknown k held at a value. What the spread
// displaces stays as estimated; errors of measured speeds count as that value makes them (York).
func (s *solution) heldAt(k int, value float64) float64 {
	theta := append([]float64(nil), s.Theta...)
	for j := range theta {
		theta[j] += s.Best.Step[j]
	}
	theta[k] = value
	q := math.Inf(1)
	for i := 0; i < 6; i++ {
		m := s.linearise(theta, s.Weight, s.Best.T, nil)
		for j := 0; j < len(m.R); j++ {
			m.X[j*m.P+k] = 0
		}
		m.Complete()
		m.Unit, m.Slope2 = s.Unit, s.Slope2
		pt := m.At(s.Best.Y)
		if !pt.OK {
			return q
		}
		moved := math.Abs(pt.Q-q) > 1e-9*(1+pt.Q)
		if q = pt.Q; !moved {
			break
		}
		for j := range theta {
			if j != k {
				theta[j] += pt.Step[j]
			}
		}
	}
	return q
}

// bent is the half-width, as a share of the time from trip to flash, from which an interval is
// bent along the curve of the sum of squares instead of taken as symmetric.
const bent = 0.03

// bend corrects the intervals of lag, trip place and next shot where the lag is known so poorly,
// against speeds themselves estimated, that the straight-line step from the solution to the
// interval's end is off: each end moves to where the sum of squares has risen as much as the
// straight step says (profile likelihood; for one swept speed it is Fieller's interval).
func (s *solution) bend(res *Result) {
	span := math.Abs(res.Lag.Value)
	free := len(s.groups) > 0
	for _, shot := range s.run.Shots {
		span = math.Max(span, math.Abs(res.Lag.Value+shot.Delay))
		free = free || shot.SpeedU > 0
	}
	old := res.Lag.Interval95
	if !free || old.High-old.Low < 2*bent*span {
		return
	}
	res.Lag.Interval95 = s.bendOne(colLag, res.Lag)
	if res.TripOffset != nil && s.Prior[colTrip] == 0 {
		res.TripOffset.Interval95 = s.bendOne(colTrip, res.TripOffset)
	}
	if n := res.NextShot; n != nil {
		end := func(next, was, is float64) float64 {
			more := math.Max(sq(next-res.Lag.Value)-sq(was-res.Lag.Value), 0)
			return math.Sqrt(sq(is-res.Lag.Value) + more)
		}
		at, is := res.Lag.Value, res.Lag.Interval95
		n.Low, n.High = at-end(n.Low, old.Low, is.Low), at+end(n.High, old.High, is.High)
	}
}

// bendOne finds both ends for unknown k.
func (s *solution) bendOne(k int, e *Estimate) Interval {
	u := math.Sqrt(s.Best.Cov[k*s.P+k])
	base := s.heldAt(k, e.Value)
	end := func(side, half float64) float64 {
		rise := sq(half / u)
		lo, hi := 0.0, half
		for i := 0; i < 12 && s.heldAt(k, e.Value+side*hi)-base < rise; i++ {
			lo, hi = hi, 2*hi
		}
		for i := 0; i < 24; i++ {
			if mid := (lo + hi) / 2; s.heldAt(k, e.Value+side*mid)-base < rise {
				lo = mid
			} else {
				hi = mid
			}
		}
		return e.Value + side*hi
	}
	return Interval{end(-1, e.Value-e.Interval95.Low), end(1, e.Interval95.High-e.Value)}
}
