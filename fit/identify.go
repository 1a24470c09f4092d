package fit

import "math"

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
	t := told{lag: s.estimable(colLag), trip: s.estimable(colTrip), speeds: make([]bool, len(s.groups))}
	if s.spare() < 1 || !(s.best.info > 1e-6) {
		return told{speeds: t.speeds, noSpare: true}
	}
	t.weakLag = s.heldLag
	if t.lag && !s.bounded() {
		t.lag, t.weakLag = false, true
	}
	free := s.prior[colTrip] == 0
	if free {
		t.trip = t.trip && !t.weakLag
	} else {
		t.trip = math.Sqrt(s.best.cov[colTrip*s.p+colTrip]*s.prior[colTrip]) < 0.9
	}
	for g := range t.speeds {
		t.speeds[g] = s.estimable(colSpan + g)
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
	u := math.Sqrt(s.best.cov[0])
	df := 2 * sq(s.best.cov[0]) * s.best.info / sq(s.best.dcov[0])
	half := students(math.Max(df, 1)) * u
	span := math.Abs(s.theta[colLag])
	for _, shot := range s.run.Shots {
		span = math.Max(span, math.Abs(s.theta[colLag]+shot.Delay))
	}
	if half < 0.05*span {
		return true // far from any trouble
	}
	limit := s.best.q + sq(students(math.Max(df, 1)))
	far := math.Max(farLag, farHalf*half)
	return s.heldAt(s.theta[colLag]+far) > limit && s.heldAt(s.theta[colLag]-far) > limit
}

// heldAt is the least weighted sum of squares with the lag held at a value.
func (s *solution) heldAt(lag float64) float64 {
	theta := append([]float64(nil), s.theta...)
	theta[colLag] = lag
	q := math.Inf(1)
	for i := 0; i < 6; i++ {
		m := s.linearise(theta, s.weight, s.best.t, nil)
		for j := 0; j < len(m.r); j++ {
			m.x[j*m.p+colLag] = 0
		}
		m.null = nil
		m.findNull()
		m.unit = s.unit
		pt := m.at(s.best.y)
		if !pt.ok {
			return q
		}
		q = pt.q
		for j := range theta {
			if j != colLag {
				theta[j] += pt.step[j]
			}
		}
	}
	return q
}
