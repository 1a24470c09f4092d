// Package claim is the one form of every study: what is claimed, the figure found with its own
// uncertainty, the limit, and whether the claim is kept.
//
// Nothing is left out of a figure in silence. A sample that is NaN, that ended in an error or that
// was refused against expectation is counted as the worst there is; what is left out has a reason
// and a limit of its own; an error that belongs to no figure breaks the study.
package claim

import (
	"fmt"
	"io"
	"math"
	"strings"
)

// Figure is what a study found.
type Figure struct {
	Value     float64
	Low, High float64 // 95 % interval of it
	N         int     // samples it was found from
	Unit      string
}

// In gives a figure its unit, of which one is so many of what the figure was found in.
func (f Figure) In(unit string, one float64) Figure {
	return Figure{f.Value / one, f.Low / one, f.High / one, f.N, unit}
}

// Limit is what a figure must keep.
type Limit struct {
	least, most float64
	chance      float64 // how far beyond the limit chance may lay the figure; see Within
}

// AtLeast is a lower limit.
func AtLeast(v float64) Limit { return Limit{least: v, most: math.Inf(1)} }

// AtMost is an upper limit.
func AtMost(v float64) Limit { return Limit{least: math.Inf(-1), most: v} }

// Between is a limit on both sides.
func Between(least, most float64) Limit { return Limit{least: least, most: most} }

// Within makes of a limit on the figure one on what it estimates, for studies of few samples: the
// claim is kept as long as the figure's 95 % interval reaches the limit, but the interval may not
// reach further than v from the figure, or the study could tell nothing. What lies 2 v beyond the
// limit is noticed with more than 95 % probability.
func (l Limit) Within(v float64) Limit {
	l.chance = v
	return l
}

// keeps says why a figure does not keep the limit; "" where it does.
func (l Limit) keeps(f Figure) string {
	switch {
	case f.N == 0:
		return "no samples"
	case math.IsNaN(f.Value) || math.IsNaN(f.Low) || math.IsNaN(f.High):
		return "not a number"
	case l.chance == 0 && (f.Value < l.least || f.Value > l.most):
		return "beyond the limit"
	case l.chance > 0 && (f.High < l.least || f.Low > l.most):
		return "beyond the limit, and not by chance"
	case l.chance > 0 && max(f.High-f.Value, f.Value-f.Low) > l.chance:
		return "too few samples to tell"
	}
	return ""
}

// String says the limit in words.
func (l Limit) String() string {
	var s string
	switch {
	case math.IsInf(l.most, 1):
		s = fmt.Sprintf("at least %.4g", l.least)
	case math.IsInf(l.least, -1):
		s = fmt.Sprintf("at most %.4g", l.most)
	default:
		s = fmt.Sprintf("%.4g to %.4g", l.least, l.most)
	}
	if l.chance > 0 {
		s += fmt.Sprintf(", chance at most %.2g", l.chance)
	}
	return s
}

// claim is one of a study.
type claim struct {
	what   string
	figure Figure
	limit  Limit
}

// Study is the claims of one study. The zero value is one without any, which is not kept.
type Study struct {
	claims []claim
	errors []string
}

// Hold adds a claim.
func (s *Study) Hold(what string, f Figure, l Limit) {
	s.claims = append(s.claims, claim{what, f, l})
}

// LeftOut adds what does not count, with the reason, and the share of all that it may be.
func (s *Study) LeftOut(reason string, n, of int, most float64) {
	s.Hold("left out: "+reason, Share(n, of), AtMost(most))
}

// Failed adds an error that was not expected and belongs to no sample that is counted.
func (s *Study) Failed(sample string, err error) {
	s.errors = append(s.errors, sample+": "+err.Error())
}

// Broken lists the claims that are not kept, and why.
func (s *Study) Broken() []string {
	broken := append([]string(nil), s.errors...)
	if len(s.claims) == 0 {
		broken = append(broken, "the study claims nothing")
	}
	for _, c := range s.claims {
		if why := c.limit.keeps(c.figure); why != "" {
			broken = append(broken, fmt.Sprintf("%s: %s (%s)", c.what, c.line(), why))
		}
	}
	return broken
}

// Print writes a line a claim, then the errors.
func (s *Study) Print(w io.Writer) error {
	var b strings.Builder
	wide := 0
	for _, c := range s.claims {
		wide = max(wide, len([]rune(c.what)))
	}
	for _, c := range s.claims {
		word := "kept  "
		why := c.limit.keeps(c.figure)
		if why != "" {
			word, why = "BROKEN", ": "+why
		}
		fmt.Fprintf(&b, "%s  %-*s  %s%s\n", word, wide, c.what, c.line(), why)
	}
	for _, e := range s.errors {
		fmt.Fprintf(&b, "FAILED  %s\n", e)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// Status is that of a study's command: 0 where everything is kept, else 1.
func (s *Study) Status() int {
	if len(s.Broken()) > 0 {
		return 1
	}
	return 0
}

func (c claim) line() string {
	f := c.figure
	unit := ""
	if f.Unit != "" {
		unit = " " + f.Unit
	}
	found := fmt.Sprintf("%.4g%s", f.Value, unit)
	if f.Low != f.High {
		found += fmt.Sprintf(" (95 %% interval %.4g to %.4g)", f.Low, f.High)
	}
	return fmt.Sprintf("%s of %d; %s", found, f.N, c.limit)
}
