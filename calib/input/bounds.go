package input

import (
	"fmt"
	"math"
	"strconv"
)

// Bounds are what a value may be; the upper one only catches slips of unit.
type Bounds struct {
	low, high float64
	open      bool // low itself is not allowed
}

// Between allows low to high, both included.
func Between(low, high float64) Bounds { return Bounds{low: low, high: high} }

// Above allows what is more than low, and at most high.
func Above(low, high float64) Bounds { return Bounds{low: low, high: high, open: true} }

// Check says what is wrong with x, "" for nothing.
func (b Bounds) Check(x float64) string {
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

// Source knows where each value of a file was stated, in the file or by a flag, and collects what
// is wrong with them.
type Source struct {
	File  TOMLFile
	Flags map[string]string // dotted key to the flag that stands for it
	Wrong List
}

// Fault notes that the value of a dotted key is wrong.
func (s *Source) Fault(key, what, hint string) {
	if flag := s.Flags[key]; flag != "" {
		s.Wrong.Add(&Error{File: flag, What: what, Hint: hint})
		return
	}
	s.Wrong.Add(s.File.Fault(key, what, hint))
}

// Number checks an optional value; 0 stands for one that is left out or wrong.
func (s *Source) Number(key string, x *float64, b Bounds) float64 {
	if x == nil {
		return 0
	}
	if what := b.Check(*x); what != "" {
		s.Fault(key, what, "check the value and its unit")
		return 0
	}
	return *x
}
