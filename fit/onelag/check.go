package onelag

import (
	"sort"

	"leadmark/fit/note"
)

// Check is one test of whether the run has one lag.
//
// Taken together the checks of a run raise any alarm with a probability of at most Level when
// nothing is wrong (Holm, Scand. J. Stat. 6 (1979) 65); docs/method.md has the rates measured.
type Check struct {
	Name      string  // order, pause, rest, setting, two-lags
	Tested    bool    // false: the run cannot tell; Note says what it lacks, and the numbers are 0
	Statistic float64 // F, or of two-lags the likelihood ratio
	P         float64 // probability of a statistic as large by chance
	Threshold float64 // P at or below which Alarm is raised, after Holm
	Alarm     bool
	// s, size of what was looked for: change over the run, after a pause, ...; 0 where there are several
	Effect  float64
	EffectU float64   // s, its standard uncertainty
	Note    note.Note // the finding, its code the Name; with an alarm the remedy too
}

// Level is the probability that a run with one lag raises any alarm.
const Level = 0.05

// untested says why a check was not made.
func untested(why note.Note) Check { return Check{Name: why.Code, Note: why} }

// holm sets thresholds and alarms: the smallest P against level/m, the next against level/(m-1),
// until one passes.
func holm(list []Check) {
	var order []int
	for i, c := range list {
		if c.Tested {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return list[order[a]].P < list[order[b]].P })
	alarm := true
	for rank, i := range order {
		c := &list[i]
		c.Threshold = Level / float64(len(order)-rank)
		alarm = alarm && c.P <= c.Threshold
		c.Alarm = alarm
	}
}
