package phrase

import "strings"

// Line is one thing that a run says, in words: the terminal and the page print the same.
type Line struct {
	Key   string // lag, spread, next_shot, lead, trip_offset, speed, advance or frames
	Label string
	Value string // with unit and uncertainty; "" where the run could not tell
	Note  string // what the value means; where there is none, why, and what to shoot to get it
}

// Known reports whether the run could tell this quantity.
func (l Line) Known() bool { return l.Value != "" }

// Headline is the answer in one sentence, in three parts so that the value can stand out.
type Headline struct{ Before, Value, After string }

// String joins the parts.
func (h Headline) String() string {
	return strings.Join(strings.Fields(h.Before+" "+h.Value+" "+h.After), " ")
}
