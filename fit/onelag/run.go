package onelag

import "leadmark/fit/outlier"

// Run is a fitted run with what is known of its shots.
type Run struct {
	*outlier.Fit
	Lag   int // which of the unknowns is the lag
	Shots []Shot
}

// Shot is what the checks ask of one shot.
type Shot struct {
	Time    float64 // s since any one instant of the run
	HasTime bool    // Time is known
	Setting string  // label of the exposure settings
}

// effects is Effects of the run's lag.
func (r Run) effects(w [][]float64) (Effect, bool) { return Effects(r.Fit, r.Lag, w) }
