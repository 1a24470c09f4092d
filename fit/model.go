package fit

// Shot is one observation of the lag model in SI units (see Run).
type Shot struct {
	Advance  float64 // m, past the line the advances are counted from
	AdvanceU float64 // m, standard uncertainty of the reading alone
	Delay    float64 // s, delay added in the controller

	Drop      float64 // m, stated fall; > 0 for a drop, else 0
	DropU     float64 // m, one error shared by all shots that state this Drop
	DropShotU float64 // m, error of letting go, shot by shot

	Speed  float64 // m/s, measured speed of a push; 0 when not measured
	SpeedU float64 // m/s, shot by shot

	Each bool // the speed (or the fall it stands for) was measured in this very shot and is no setting

	Group string // shots at one unknown but repeatable speed (Drop == 0 and Speed == 0)

	Time    float64 // s since any one instant of the run, such as its first frame; used by Result.Checks only
	HasTime bool    // Time is known
	Setting string  // label of the exposure settings; shots of unlike labels are compared in Result.Checks
}

// Run is everything the lag model needs.
//
//	tau_i = L + d_i + e_i                     e_i of standard deviation Spread
//	s_i   = b + v_i tau_i + a tau_i^2/2 + reading error of standard deviation AdvanceU
//	drop:   v_i = sqrt(2 g Drop_i), a = g     push: v_i = Speed or the group's, a = 0
type Run struct {
	Shots       []Shot
	Gravity     float64  // m/s^2
	GravityU    float64  // m/s^2
	DropCommonU float64  // m, one error shared by every drop of the run
	TripU       *float64 // m, standard uncertainty of a known trip place; nil: place unknown
	SpeedRepeat float64  // relative shot-to-shot repeatability of a group's speed
	MaxDrop     float64  // m, highest drop the rig allows; 0: none stated. Bounds Result.Advice
	MaxDelay    float64  // s, longest delay the controller allows; 0: none stated
}

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
	Why      string // a sentence, when Outlier
}

// Note is a doubt or explanation that travels with the result.
type Note struct{ Code, Text string }

// Advice is a next thing to shoot.
type Advice struct {
	Text      string
	Drop      float64 // m; 0 when not a drop
	Speed     float64 // m/s; 0 when not a push at a measured speed
	Delay     float64 // s
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
	Notes      []Note
	Advice     []Advice
	Budget     []Budget // of the lag, then of the trip offset, where they were told
	Odd        *Odd     // nil when no shot is odd
	Checks     []Check  // is it one lag? Empty where the lag was not told
	// Curve predicts the mean advance at speed v (m/s) and delay d (s) with its standard uncertainty;
	// nil when the lag was not determined.
	Curve func(v, d float64) (mean, u float64) `json:"-"`
}
