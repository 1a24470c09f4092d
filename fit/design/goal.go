package design

import (
	"leadmark/fit"
	"leadmark/fit/note"
)

// Goal is what a run is to reach, and what the rig allows.
type Goal struct {
	ULag     float64 // s, standard uncertainty wanted of the lag; 0: not asked
	UNext    float64 // s, standard uncertainty wanted of the next shot's lag, spread included; 0: not asked
	MaxDrop  float64 // m, highest drop; 0: as Run.MaxDrop, else a little beyond those shot, or 1 m for a first run
	MaxDelay float64 // s, longest added delay; 0: as Run.MaxDelay, else a little beyond those shot
	MaxShots int     // shots at most; 0: 500
	// Assume is for a first run, when there are no shots; zero values are replaced and
	// Schedule.Assumed says by what.
	Assume Assumed
}

// Assumed stands in for what a first run has not told yet.
type Assumed struct {
	Lag, Spread      float64   // s; zero: 0.05 and 0.001
	Source           string    // where lag and spread come from; "" where from nowhere
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
}

func (b Batch) setting() fit.Setting {
	return fit.Setting{Drop: b.Drop, Delay: b.Delay, Speed: b.Speed, Group: b.Group}
}

// Schedule is what to shoot next to reach a goal.
type Schedule struct {
	Reached  bool    // the shots there are reach the goal: stop
	Possible bool    // the goal can be reached within the limits; else Batches come as near as shots help
	Batches  []Batch // all that is to be shot from now on; empty when Reached
	// Stage are of these the ones to shoot before planning again, since the spread is still known
	// poorly; all, where it is not.
	Stage   []Batch
	Shots   int     // sum over Batches
	ULag    float64 // s, standard uncertainty promised for the lag after Batches (as it is now, when Reached)
	UNext   float64 // s, promised for the next shot's lag: that of the lag and the spread together
	ULagNow float64 // s, as it is now; 0 where the lag is not yet told
	Spread  float64 // s, spread the promise rests on
	Limit   string  // source (as in Contribution) that leaves most of the promised variance
	// Assumed is what was taken for granted; the zero Note when all comes from the run.
	Assumed note.Note
	// Next says that the goal is the next shot's uncertainty; SpreadAlone that the spread by itself
	// is more than the goal allows; Supposed that no shot tells the spread yet.
	Next, SpreadAlone, Supposed bool
}
