package fit

// Goal is what a run is to reach, and what the rig allows.
type Goal struct {
	ULag     float64 // s, standard uncertainty wanted of the lag; 0: not asked
	UNext    float64 // s, standard uncertainty wanted of the next shot's lag, spread included; 0: not asked
	MaxDrop  float64 // m, highest drop; 0: as Run.MaxDrop, else a little beyond those shot, or 1 m for a first run
	MaxDelay float64 // s, longest added delay; 0: as Run.MaxDelay, else a little beyond those shot
	MaxShots int     // shots at most; 0: 500
	Assume   Assumed // for a first run, when there are no shots; zero values are replaced and Schedule.Assumed says by what
}

// Assumed stands in for what a first run has not told yet.
type Assumed struct {
	Lag, Spread      float64   // s; zero: 0.05 and 0.001
	AdvanceU         float64   // m, reading; zero: 0.0001
	DropU, DropShotU float64   // m; as given, zero means none
	Speeds           []float64 // m/s, speeds a push can have; empty: drops
	SpeedU           float64   // m/s
}

// Batch is a number of shots to make alike.
type Batch struct {
	Drop  float64 // m; 0 when not a drop
	Speed float64 // m/s; 0 when not a push at a measured speed
	Group string  // of a push at one unknown speed
	Delay float64 // s
	Shots int
	Text  string // what to do, one line
}

// Schedule is what to shoot next to reach a goal.
type Schedule struct {
	Reached  bool    // the shots there are reach the goal: stop
	Possible bool    // the goal can be reached within the limits; else Batches come as near as they allow
	Batches  []Batch // to shoot now, in the order best shot; empty when Reached
	Shots    int     // sum over Batches
	ULag     float64 // s, standard uncertainty promised for the lag after these shots (now, when Reached)
	UNext    float64 // s, promised for the next shot's lag; 0 where the spread is unknown
	ULagNow  float64 // s, before; 0 where the lag is not yet told
	Assumed  string  // what was taken for granted; empty when all comes from the run
	Text     string  // the whole in a few sentences, with when to stop
}

// Plan says what to shoot next, with what is there, to reach a goal; with no shots in the run it plans a
// first run. See plan.go for the method. It returns ErrBadGoal, or the errors of Lag other than ErrNoShots
// and ErrTooFew.
//
//	func Plan(run Run, goal Goal) (Schedule, error)
