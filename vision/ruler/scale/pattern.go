package scale

import (
	"math"
	"slices"

	"leadmark/fit/stat"
	"leadmark/vision/ruler"
)

// Pattern is a way rulers tell their lines apart by length.
type Pattern struct {
	Unit       string
	Graduation float64 // m
	Classes    []Class // the longest first
	Rare       float64 // nats that it must be better by than the commonest of its unit
	beside     bool    // so like what is no ruler that it is believed where it is stated alone
	gaps       bool    // what is counted are the gaps between its lines, each as long as the longer line beside it
}

// Class is the lines whose count from the zero line leaves rest on division by period.
type Class struct{ Period, Rest int }

// The international inch is 25.4 mm exactly (NIST SP 811, appendix B.6).
const inch = 25.4e-3

// Patterns are the common rulers, as they are told from the gaps between their lines. Common practice,
// no source: lines of 10 and 5 mm, and of each half of an inch, are longer than those between; and
// which divisions are rarer.
func Patterns() []Pattern {
	return []Pattern{
		{Unit: "mm", Graduation: 1e-3, Classes: []Class{{10, 0}, {10, 5}}},
		{Unit: "mm", Graduation: 0.5e-3, Classes: []Class{{20, 0}, {20, 10}, {2, 0}}, Rare: 2},
		{Unit: "inch", Graduation: inch / 8, Classes: []Class{{8, 0}, {8, 4}, {4, 2}}, Rare: 2},
		{Unit: "inch", Graduation: inch / 16, Classes: []Class{{16, 0}, {16, 8}, {8, 4}, {4, 2}}},
		{Unit: "inch", Graduation: inch / 32, Classes: []Class{{32, 0}, {32, 16}, {16, 8}, {8, 4}, {4, 2}}, Rare: 2},
		{Unit: "inch", Graduation: inch / 50, Classes: []Class{{50, 0}, {50, 25}, {5, 0}}, Rare: 5},
	}
}

// trade are all graduations that are sold, the common ones first; some divisions are printed in more
// ways than one.
func trade() []Pattern {
	return append(Patterns(), []Pattern{
		{Unit: "inch", Graduation: inch / 50, Classes: []Class{{50, 0}, {10, 0}, {5, 0}}, Rare: 5},
		{Unit: "inch", Graduation: inch / 64, Classes: []Class{{64, 0}, {64, 32}, {32, 16}, {16, 8}, {8, 4}, {4, 2}}, Rare: 5},
		{Unit: "inch", Graduation: inch / 10, Classes: []Class{{10, 0}, {10, 5}}, Rare: decimalInch},
		{Unit: "inch", Graduation: inch / 20, Classes: []Class{{20, 0}, {20, 10}, {2, 0}}, Rare: decimalInch},
		// Longer lines of hundredths run on past what is measured of a line.
		{Unit: "inch", Graduation: inch / 100, Classes: []Class{{10, 0}, {10, 5}}, Rare: decimalInch},
		{Unit: "mm", Graduation: 2e-3, Classes: []Class{{5, 0}}, Rare: decimalInch, beside: true},
		{Unit: "mm", Graduation: 5e-3, Classes: []Class{{20, 0}, {2, 0}}, Rare: decimalInch, beside: true},
	}...)
}

// Match is how well a pattern explains the lengths of a row's marks.
type Match struct {
	Pattern
	Phase  int  // index of a line of the longest class
	either bool // or of the next: none of one of the two is in view, by which they could be told apart
	// Size is by how many nats rulers are rarer whose shortest lines are so long as these would be.
	Size float64
	// Beside is by how many nats what stands beside the row speaks against it.
	Beside float64
	// nats, for the pattern against equal lengths; negative infinity where another order explains
	// them as well
	Evidence float64
	Nominal  float64 // m, the pattern's own graduation where another is stated; else 0
}

// Period is after how many graduations the longest lines come again, as far as it is known: the
// next longest lie midway.
func (m Match) Period() float64 {
	switch p := float64(m.Classes[0].Period); {
	case m.either && m.Classes[1].Rest == 0:
		return float64(m.Classes[1].Period)
	case m.either:
		return p / 2
	default:
		return p
	}
}

// IsStated says whether a graduation is the one stated, as far as printers keep to it.
func IsStated(graduation float64, spec ruler.Spec) bool {
	return math.Abs(graduation/spec.Graduation-1) <= printedOff
}

// Stated gives the match the stated graduation, where one is.
func (m Match) Stated(spec ruler.Spec) Match {
	if spec.Graduation > 0 && m.Graduation > 0 {
		m.Nominal, m.Graduation = m.Graduation, spec.Graduation
	}
	return m
}

// sorted puts the lengths into their classes.
func (p Pattern) sorted(n []int, length []float64, phase int) [][]float64 {
	by := make([][]float64, len(p.Classes)+1)
	for i := range n {
		c := p.Class(n[i] - phase)
		by[c] = append(by[c], length[i])
	}
	return by
}

// Class is the class of what is at a count from the zero line; len(classes) for the shortest.
func (p Pattern) Class(count int) int {
	if p.gaps {
		return min(p.line(count), p.line(count+1))
	}
	return p.line(count)
}

// line is the class of a line.
func (p Pattern) line(count int) int {
	for i, c := range p.Classes {
		if ((count-c.Rest)%c.Period+c.Period)%c.Period == 0 {
			return i
		}
	}
	return len(p.Classes)
}

// Halves says whether every second line is longer than the next, as on half millimetres and inches.
// Much that is no ruler alternates; so there each class must differ from the next, which few things
// but rulers do.
func (p Pattern) Halves() bool { return p.Classes[len(p.Classes)-1].Period%5 != 0 }

// ordered says whether the first class is the longest and the last the shortest, clearly, and the
// others lie between them in their order.
func (p Pattern) ordered(by [][]float64) bool {
	last := len(by) - 1
	if len(by) > 2 && len(by[0]) == 0 && p.Classes[1].Rest == 0 { // of a long period none may be in view
		by, last = by[1:], last-1
	}
	if len(by[last]) == 0 || len(by[0]) == 0 {
		return false
	}
	// Lines of 5 and 10 mm may be of one length, with a numeral at some, and those midway to the next of
	// the longest as long as those.
	least, first := -mayExceed, -mayExceed
	if p.Halves() || p.Classes[0].Period == fiftieth {
		least = justLonger
	}
	if len(p.Classes) > 1 && p.Classes[1].Rest == 0 {
		first = least
	}
	long := lowerQuartile(by[0])
	if long < stat.Median(slices.Clone(by[last]))+clearlyLonger {
		return false
	}
	for i, v := range by[1:] {
		if len(v) == 0 {
			continue
		}
		m := medianLength(v)
		if i == 0 && m > long-first || i > 0 && m > long-least {
			return false
		}
		if i+1 < last && m < stat.Median(slices.Clone(by[last]))-belowShortest {
			return false
		}
		long = m
	}
	return true
}

// evenSteps says whether the longest lines are longer than the next by about as much as those are
// longer than the third: what a numeral adds to a line is more, and lines of one class, taken for
// two, differ by less. Those that run on past most, pitches, are longer than can be told.
func evenSteps(by [][]float64, most float64) bool {
	if len(by[1]) == 0 || len(by[2]) == 0 {
		return true
	}
	long := lowerQuartile(by[0])
	first := long - lowerQuartile(by[1])
	second := lowerQuartile(by[1]) - stat.Median(slices.Clone(by[2]))
	return (first >= leastStep*second || long > runsOn*most) && first <= mostStep*second
}

// ofGaps is the pattern of the gaps between lines. Where lines halve, each gap lies beside one of
// the longer of the two shortest classes, and the shortest does not show.
func (p Pattern) ofGaps() Pattern {
	p.gaps = true
	if p.Halves() {
		p.Classes = p.Classes[:len(p.Classes)-1]
	}
	return p
}
