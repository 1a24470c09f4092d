package fit

import (
	"leadmark/fit/note"
	"leadmark/fit/onelag"
)

// Interval is a closed interval.
type Interval struct{ Low, High float64 }

// Estimate is a value with its standard uncertainty, effective degrees of freedom (1e6 where there
// is no end to them) and 95 % interval.
type Estimate struct {
	Value, U, DF float64
	Interval95   Interval
	Method       string // label of the estimator
}

// GroupSpeed is the estimated speed of the shots of one group.
type GroupSpeed struct {
	Group string
	Estimate
}

// AdvanceGroup summarises the advances of shots made under equal conditions.
type AdvanceGroup struct {
	Drop, Delay, Speed float64 // m, s, m/s as stated; Speed 0 when unknown
	Group              string
	N                  int // shots counted here
	LeftOut            int // flagged shots of the same conditions, not counted
	Mean               Estimate
	SD                 float64   // m, n-1; 0 for n < 2
	Tolerance95        *Interval // holds 95 % of shots with 95 % confidence; nil for n < 2
}

// ShotFit is what the fit says of one shot, in the order of Run.Shots.
type ShotFit struct {
	Fitted   float64 // m, advance the model expects
	Residual float64 // m, Advance - Fitted
	Z        float64 // residual in standard deviations the model expects
	Weight   float64 // 0 to 1, robust weight given to the shot
	Outlier  bool
	Why      note.Note // what is odd about it, when Outlier
}

// Advice is a next thing to shoot.
type Advice struct {
	Note      note.Note // what to do, and what it gives
	Drop      float64   // m; 0 when not a drop
	Speed     float64   // m/s; 0 when not a push at a measured speed
	Delay     float64   // s
	Shots     int
	ULagAfter float64 // s, expected standard uncertainty of the lag; 0 when it cannot be told
}

// Result is the estimate of a run. A quantity that the run could not tell is nil or empty.
type Result struct {
	Determined []string  // of lag, spread, next_shot, trip_offset, trip_line, speeds, advance
	Lag        *Estimate // s
	Spread     *Estimate // s, shot to shot, one standard deviation
	NextShot   *Interval // s, where the next shot's lag falls with 95 % probability
	TripOffset *Estimate // m
	Speeds     []GroupSpeed
	Advance    []AdvanceGroup
	Shots      []ShotFit
	Notes      []note.Note // doubts and explanations that travel with the result
	Advice     []Advice
	Budget     []Budget       // of the lag, then of the trip offset, where they were told
	Odd        *Odd           // nil when no shot is odd
	Checks     []onelag.Check // is it one lag? Empty where the lag was not told
	// Curve predicts the mean advance at speed v (m/s) and delay d (s) with its standard uncertainty;
	// nil when the lag was not determined.
	Curve func(v, d float64) (mean, u float64) `json:"-"`
}

// Contribution is one line of an uncertainty budget (JCGM 100:2008, table H.1 and clause 8.1.6).
type Contribution struct {
	// Source is reading, spread, drop-height, letting-go, tape, gravity, speed, speed-repeat,
	// trip-place or weights.
	Source string
	Drop   float64 // m, the stated height a line "drop-height" belongs to; else 0
	Kind   string  // "A": evaluated from the scatter of the shots; "B": stated beforehand
	N      int     // independent errors of this kind: the shots or heights it belongs to, 1 when common to the run
	Unit   string  // unit of Input: m, s, m/s, m/s^2 or 1
	Input  float64 // standard uncertainty of one such error; root mean square over N where they differ
	// Sensitivity is what all N together do to the estimate, per unit of Input: root sum of
	// squares; sign only where N is 1.
	Sensitivity float64
	U           float64 // standard uncertainty it gives the estimate, in the estimate's unit: |Sensitivity| Input
	Share       float64 // of the variance, 0 to 1; the shares of a budget sum to 1
}

// Budget says what makes up the standard uncertainty of one estimate: the squares of its lines' U
// sum to the square of U, which is the U of that estimate.
type Budget struct {
	Of    string // lag or trip_offset
	Unit  string // s or m
	U     float64
	DF    float64 // effective degrees of freedom of U
	Lines []Contribution
}

// Odd says what the odd shots change: the estimates as reported, with those shots weighed down,
// beside the estimates with every shot counted in full.
type Odd struct {
	Shots       []int     // places in Run.Shots
	Lag         *Estimate // s, with every shot counted in full; nil when it cannot be told then
	Spread      *Estimate // s, likewise
	LagChange   float64   // s, Lag with every shot minus Result.Lag; 0 when either is missing
	SpreadRatio float64   // spread with every shot over Result.Spread; 0 when either is missing or nil
}
