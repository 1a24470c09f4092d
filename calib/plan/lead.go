package plan

import (
	"fmt"
	"math"

	"leadmark/calib/input"
	"leadmark/fit/stat"
)

// Lead is how far the nose is past the trip point at the flash, along.
type Lead struct {
	Mean, MeanU float64 // and the standard error of its drawing
	SD          float64
	Interval95  [2]float64
}

// lead sums up the places of the nose.
func (s *sample) lead() Lead {
	var each [starts]float64
	for r := range each {
		for _, x := range s.nose[r*s.n : (r+1)*s.n] {
			each[r] += x / float64(s.n)
		}
	}
	m := overStarts(each)
	l := Lead{Mean: m.P, MeanU: m.U}
	for _, x := range s.nose {
		l.SD += sq(x - l.Mean)
	}
	l.SD = math.Sqrt(l.SD / float64(s.total()-1))
	work := append([]float64{}, s.nose...)
	n := float64(len(work))
	l.Interval95 = [2]float64{stat.Select(work, int(0.025*n)), stat.Select(work, int(0.975*n))}
	return l
}

// Moment is how to have the nose at a place when the flash fires.
type Moment struct {
	At         float64 // m past the trip point
	TripBefore float64 // m, how far before that place the beam must stand with the delay now set
	Delay      float64 // s, the added delay that brings the nose there with the beam where it stands
	StandBack  float64 // m, how far the beam must stand back at least; 0 where the rig is quick enough
	SD         float64 // m, of the nose along, with Delay and StandBack
	Interval95 [2]float64
	SDNow      float64 // m, of the nose along, with the delay now set
}

// momentDraws is from how many trips a moment is reckoned.
const momentDraws = 1 << 13

// moment finds the added delay at which the mean nose is at a place; where even none is too late, how far the beam must
// stand back. It returns an *input.NoResult where the subject never gets there.
func (m *model) moment(at, delayNow float64, seed uint64) (Moment, error) {
	var begin []start
	q := m.sequenceFor(seed, 4)
	for range momentDraws {
		t := m.draw(&q)
		t.tau -= m.delay // as without any delay
		begin = append(begin, t)
	}
	mo := Moment{At: at}
	now := m.noses(begin, delayNow)
	mo.TripBefore, mo.SDNow = now.Mean, now.SD
	first := m.noses(begin, 0)
	if first.Mean >= at {
		mo.StandBack, mo.SD = first.Mean-at, first.SD
		mo.Interval95 = [2]float64{first.Interval95[0] - mo.StandBack, first.Interval95[1] - mo.StandBack}
		return mo, nil
	}
	delay, ok := m.delayFor(begin, at)
	if !ok {
		return mo, &input.NoResult{What: fmt.Sprintf("the subject does not get as far as %.4g mm past the trip point", at*1e3), Hint: "give a nearer place with --moment, or a course that goes on for longer"}
	}
	there := m.noses(begin, delay)
	mo.Delay, mo.SD, mo.Interval95 = delay, there.SD, there.Interval95
	return mo, nil
}

// noses sums up the places of the nose with an added delay.
func (m *model) noses(begin []start, delay float64) Lead {
	s := sample{n: len(begin) / starts, nose: make([]float64, len(begin))}
	for i, t := range begin {
		t.tau += delay
		s.nose[i] = m.body(t).noseX
	}
	return s.lead()
}

// longestDelay bounds the search, s.
const longestDelay = 60

// delayFor finds the first delay at which the mean nose reaches a place: in steps that double, then by halving.
func (m *model) delayFor(begin []start, at float64) (delay float64, ok bool) {
	limit := float64(longestDelay)
	if m.s.Motion == Table {
		limit = m.s.Course.End() - m.law.Mean
	}
	lo, hi := 0.0, min(1e-3, limit)
	for m.noses(begin, hi).Mean < at {
		if hi >= limit {
			return 0, false
		}
		lo, hi = hi, min(2*hi, limit)
	}
	for range 40 {
		if mid := (lo + hi) / 2; m.noses(begin, mid).Mean < at {
			lo = mid
		} else {
			hi = mid
		}
		if hi-lo < 1e-7 {
			break
		}
	}
	return (lo + hi) / 2, true
}
