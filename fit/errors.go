package fit

import (
	"errors"
	"fmt"
	"math"
)

// Errors of Lag; test with errors.Is. Each text says what to do.
var (
	ErrNoShots = errors.New("no usable shot in the run\nhint: shoot the ruler again, or check which " +
		"frames were left out and why")
	ErrTooFew  = errors.New("too few shots")
	ErrBadShot = errors.New("a shot cannot be used as it stands")
	ErrBadRun  = errors.New("the run's conditions cannot be used as they stand")
)

// MinShots is the smallest run from which a spread can be told from chance at all.
const MinShots = 3

func tooFew(n int) error {
	return fmt.Errorf("%w: %d usable, at least %d needed\nhint: six drops from each of two or more "+
		"heights make a good run", ErrTooFew, n, MinShots)
}

// check refuses what cannot be fitted, naming the shot by its place in the run.
func check(run Run) error {
	if len(run.Shots) == 0 {
		return ErrNoShots
	}
	for i, s := range run.Shots {
		if why := badShot(s); why != "" {
			return fmt.Errorf("%w: shot %d: %s", ErrBadShot, i+1, why)
		}
	}
	if why := badRun(run); why != "" {
		return fmt.Errorf("%w: %s", ErrBadRun, why)
	}
	if len(run.Shots) < MinShots {
		return tooFew(len(run.Shots))
	}
	return nil
}

func badShot(s Shot) string {
	for _, q := range []struct {
		name  string
		value float64
		min   float64
	}{
		{"advance", s.Advance, math.Inf(-1)}, {"added delay", s.Delay, math.Inf(-1)},
		{"uncertainty of the reading", s.AdvanceU, 0}, {"drop height", s.Drop, 0},
		{"uncertainty of the drop height", s.DropU, 0}, {"uncertainty of letting go", s.DropShotU, 0},
		{"speed", s.Speed, 0}, {"uncertainty of the speed", s.SpeedU, 0},
	} {
		if math.IsNaN(q.value) || math.IsInf(q.value, 0) {
			return "its " + q.name + " is not a number"
		}
		if q.value < q.min {
			return fmt.Sprintf("its %s is negative (%g)", q.name, q.value)
		}
	}
	if s.Drop > 0 && s.Speed > 0 {
		return "it has both a drop height and a measured speed; keep one of them"
	}
	return ""
}

func badRun(run Run) string {
	drops := false
	for _, s := range run.Shots {
		drops = drops || s.Drop > 0
	}
	finite := func(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
	switch {
	case drops && !(run.Gravity > 0 && finite(run.Gravity)):
		return fmt.Sprintf("local gravity is %g m/s^2; it must be positive (9.80665 when unknown)", run.Gravity)
	case !(run.GravityU >= 0 && finite(run.GravityU)):
		return "the uncertainty of gravity is negative or not a number"
	case !(run.DropCommonU >= 0 && finite(run.DropCommonU)):
		return "the common uncertainty of the drop heights is negative or not a number"
	case !(run.SpeedRepeat >= 0 && finite(run.SpeedRepeat)):
		return "the repeatability of the speed is negative or not a number"
	case run.TripU != nil && !(*run.TripU >= 0 && finite(*run.TripU)):
		return "the uncertainty of the trip place is negative or not a number"
	}
	return ""
}
