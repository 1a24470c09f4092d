package fit

// Check is one test of whether the run has one lag.
//
// Taken together the checks of a run raise any alarm with a probability of at most CheckLevel when
// nothing is wrong (Holm, Scand. J. Stat. 6 (1979) 65); docs/method.md has the rates measured.
type Check struct {
	Name      string  // order, pause, rest, setting, two-lags
	Tested    bool    // false: the run cannot tell; Text says what it lacks, and the numbers are 0
	Statistic float64 // as Text names it: F, or the likelihood ratio
	P         float64 // probability of a statistic as large by chance
	Threshold float64 // P at or below which Alarm is raised, after Holm
	Alarm     bool
	Effect    float64 // s, size of what was looked for: change over the run, after a pause, ...; 0 where there are several
	EffectU   float64 // s, its standard uncertainty
	Text      string  // the finding, and with an alarm the remedy
}

// CheckLevel is the probability that a run with one lag raises any alarm.
const CheckLevel = 0.05
