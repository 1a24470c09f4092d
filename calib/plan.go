package calib

import (
	"leadmark/fit"
	"leadmark/fit/design"
)

// Limits bound what is proposed to shoot next; zero where not stated.
type Limits struct {
	MaxDrop  float64 // m, longest fall that the set has room for
	MaxDelay float64 // s, longest delay that the controller can add
}

// Earlier is what an earlier calibration of the rig tells; zero where there is none.
type Earlier struct {
	Lag, Spread float64 // s; Spread 0 where it was not told, or seemed none
	Name        string  // of that calibration
}

// Goal is the standard uncertainty that the shooting is to reach; the zero Goal asks for nothing.
type Goal struct {
	U    float64 // s
	Next bool    // of the next shot's lag; else of the lag
}

// PlanEntry is what to shoot to reach a goal.
type PlanEntry struct {
	Goal     GoalEntry    `json:"goal"`
	Reached  bool         `json:"reached"`
	Possible bool         `json:"possible"` // within what the rig allows
	Batches  []BatchEntry `json:"batches"`
	Stage    []BatchEntry `json:"stage"` // of the batches, what to shoot before planning again
	Shots    int          `json:"shots"`
	ULagMS   *float64     `json:"u_lag_ms,omitempty"`  // expected after these shots
	UNextMS  *float64     `json:"u_next_ms,omitempty"` // expected after these shots
	Assumed  string       `json:"assumed,omitempty"`
	Text     string       `json:"text"`
}

// GoalEntry is the standard uncertainty that was asked for, in milliseconds.
type GoalEntry struct {
	ULagMS  float64 `json:"u_lag_ms,omitempty"`
	UNextMS float64 `json:"u_next_ms,omitempty"`
}

// BatchEntry is a number of shots to make alike.
type BatchEntry struct {
	DropMM   *float64 `json:"drop_mm,omitempty"`
	SpeedMPS *float64 `json:"speed_mps,omitempty"`
	Group    string   `json:"group,omitempty"`
	DelayMS  float64  `json:"delay_ms"`
	Shots    int      `json:"shots"`
	Text     string   `json:"text"`
}

func (g Goal) entry() GoalEntry {
	if g.Next {
		return GoalEntry{UNextMS: stated(g.U * 1e3)}
	}
	return GoalEntry{ULagMS: stated(g.U * 1e3)}
}

func (g Goal) fit(l Limits) design.Goal {
	out := design.Goal{ULag: g.U, MaxDrop: l.MaxDrop, MaxDelay: l.MaxDelay}
	if g.Next {
		out.ULag, out.UNext = 0, g.U
	}
	return out
}

// planFor says what to shoot to reach the run's goal; nil where none is asked for.
func planFor(run Run, shots []fit.Shot, c Counting) (*design.Schedule, error) {
	if run.Goal.U == 0 {
		return nil, nil
	}
	s, err := design.Plan(fitRun(run, shots, c), run.Goal.fit(run.Limits))
	if err != nil {
		return nil, err
	}
	return &s, nil
}

// PlanFirst plans a run of which nothing is there yet, from its goal, its limits, what its
// description states of the uncertainties and the trip place, and what an earlier calibration told of lag and spread.
func PlanFirst(run Run) (design.Schedule, error) {
	var c Counting
	if run.Trip != nil {
		c.TripU = &run.Trip.U
	}
	if run.Defaults.Gravity == 0 {
		run.Defaults.Gravity, run.Defaults.GravityU = StandardGravity, StandardGravityU
	}
	goal := run.Goal.fit(run.Limits)
	goal.Assume.DropU, goal.Assume.DropShotU, goal.Assume.SpeedU = run.Defaults.DropU, run.Defaults.DropShotU, run.Defaults.SpeedU
	goal.Assume.Lag, goal.Assume.Spread, goal.Assume.Source = run.Earlier.Lag, run.Earlier.Spread, run.Earlier.Name
	if run.Method == Push && run.Defaults.Speed > 0 {
		goal.Assume.Speeds = []float64{run.Defaults.Speed / 2, run.Defaults.Speed}
	}
	s, err := design.Plan(fitRun(run, nil, c), goal)
	if err != nil {
		return s, &InputError{File: "--goal-ms", What: "cannot be planned for", Err: err}
	}
	return s, nil
}

func planEntry(g Goal, s *design.Schedule) *PlanEntry {
	if s == nil {
		return nil
	}
	e := NewPlanEntry(g, *s)
	return &e
}

// NewPlanEntry turns a plan into the units of the file format.
func NewPlanEntry(g Goal, s design.Schedule) PlanEntry {
	e := PlanEntry{Goal: g.entry(), Reached: s.Reached, Possible: s.Possible, Batches: batchEntries(s.Batches), Stage: batchEntries(s.Stage), Shots: s.Shots, Assumed: s.Assumed, Text: s.Text}
	if s.ULag > 0 {
		e.ULagMS = some(s.ULag * 1e3)
	}
	if s.UNext > 0 {
		e.UNextMS = some(s.UNext * 1e3)
	}
	return e
}

func batchEntries(list []design.Batch) []BatchEntry {
	out := []BatchEntry{}
	for _, b := range list {
		e := BatchEntry{Group: b.Group, DelayMS: stated(b.Delay * 1e3), Shots: b.Shots, Text: b.Text}
		if b.Drop > 0 {
			e.DropMM = ptr(stated(b.Drop * 1e3))
		}
		if b.Speed > 0 {
			e.SpeedMPS = ptr(stated(b.Speed))
		}
		out = append(out, e)
	}
	return out
}
