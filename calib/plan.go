package calib

import (
	"leadmark/calib/input"
	"leadmark/calib/runfile"
	"leadmark/fit"
	"leadmark/fit/design"
)

func fitGoal(g runfile.Goal, l runfile.Limits) design.Goal {
	out := design.Goal{ULag: g.U, MaxDrop: l.MaxDrop, MaxDelay: l.MaxDelay}
	if g.Next {
		out.ULag, out.UNext = 0, g.U
	}
	return out
}

// planFor says what to shoot to reach the run's goal; nil where none is asked for.
func planFor(run runfile.Run, shots []fit.Shot, c Counting) (*design.Schedule, error) {
	if run.Goal.U == 0 {
		return nil, nil
	}
	s, err := design.Plan(fitRun(run, shots, c), fitGoal(run.Goal, run.Limits))
	if err != nil {
		return nil, err
	}
	return &s, nil
}

// PlanFirst plans a run of which nothing is there yet, from its goal, its limits, what its
// description states of the uncertainties and the trip place, and what an earlier calibration told
// of lag and spread.
func PlanFirst(run runfile.Run) (design.Schedule, error) {
	var c Counting
	if run.Trip != nil {
		c.TripU = &run.Trip.U
	}
	if run.Defaults.Gravity == 0 {
		run.Defaults.Gravity, run.Defaults.GravityU = runfile.StandardGravity, runfile.StandardGravityU
	}
	goal := fitGoal(run.Goal, run.Limits)
	goal.Assume.DropU, goal.Assume.DropShotU, goal.Assume.SpeedU = run.Defaults.DropU, run.Defaults.DropShotU,
		run.Defaults.SpeedU
	goal.Assume.Lag, goal.Assume.Spread, goal.Assume.Source = run.Earlier.Lag, run.Earlier.Spread, run.Earlier.Name
	if run.Method == runfile.Push && run.Defaults.Speed > 0 {
		goal.Assume.Speeds = []float64{run.Defaults.Speed / 2, run.Defaults.Speed}
	}
	s, err := design.Plan(fitRun(run, nil, c), goal)
	if err != nil {
		return s, &input.Error{File: "--goal-ms", What: "cannot be planned for", Err: err}
	}
	return s, nil
}
