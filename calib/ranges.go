package calib

import (
	"fmt"
	"math"
	"strconv"
)

// bounds are what a value may be; the upper one only catches slips of unit.
type bounds struct {
	low, high float64
	open      bool // low itself is not allowed
}

func between(low, high float64) bounds { return bounds{low: low, high: high} }
func above(low, high float64) bounds   { return bounds{low: low, high: high, open: true} }

// The ranges of the conditions of a shot, in the units of the file format.
func dropRange() bounds  { return above(0, 20000) }
func speedRange() bounds { return above(0, 300) }
func delayRange() bounds { return between(0, 60000) }

// check says what is wrong with x, "" for nothing.
func (b bounds) check(x float64) string {
	say := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return "is not a finite number"
	case x < b.low && b.low == 0:
		return fmt.Sprintf("is %s; it cannot be negative", say(x))
	case b.open && x <= b.low:
		return fmt.Sprintf("is %s; it must be above %s", say(x), say(b.low))
	case x < b.low || x > b.high:
		return fmt.Sprintf("is %s; it must lie between %s and %s", say(x), say(b.low), say(b.high))
	}
	return ""
}

// number checks an optional value; 0 stands for one that is left out or wrong.
func (s *source) number(key string, x *float64, b bounds) float64 {
	if x == nil {
		return 0
	}
	if what := b.check(*x); what != "" {
		s.fault(key, what, "check the value and its unit")
		return 0
	}
	return *x
}
