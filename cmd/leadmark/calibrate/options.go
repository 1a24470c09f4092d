package calibrate

import (
	"fmt"

	"leadmark/calib/input"
	"leadmark/calib/runfile"
)

// options are the flags of calibrate that do not stand for keys of run.toml.
type options struct {
	out, note, readings string
	accept, json, start bool
	follow              bool
	workers             int
	goal                float64 // ms; 0: none
	goalOf              string  // lag or next
	overrides           runfile.Overrides
	rigGiven            bool

	goalGiven, goalOfGiven bool
}

func (o options) validate() error {
	switch {
	case o.start && (o.accept || o.readings != "" || o.json && !o.goalGiven):
		return &input.Error{File: "--start", What: "writes files to fill in and does nothing else",
			Hint: "leave out --accept, --readings and --json; with --goal-ms, --json prints the plan"}
	case o.follow && (o.start || o.accept || o.readings != "" || o.json):
		return &input.Error{File: "--follow", What: "watches a run come in and prints as it goes",
			Hint: "leave out --start, --accept, --readings and --json; accept the run when it is shot"}
	case o.note != "" && !o.accept:
		return &input.Error{File: "--note", What: "is kept with an accepted calibration", Hint: "add --accept"}
	case o.workers < 0:
		return &input.Error{File: "--workers", What: "cannot be negative"}
	}
	return o.validateGoal()
}

func (o options) validateGoal() error {
	switch {
	case o.goalGiven && !(o.goal > 0 && o.goal < 1e6):
		return &input.Error{File: "--goal-ms", What: fmt.Sprintf("is %v; it must be above 0", o.goal),
			Hint: "give the standard uncertainty to reach in milliseconds, such as 0.2"}
	case o.goalOf != "lag" && o.goalOf != "next":
		return &input.Error{File: "--goal", What: fmt.Sprintf("is %q; it is lag or next", o.goalOf),
			Hint: "lag: how well the mean is known; next: how far the next shot may lie from it"}
	case o.goalOfGiven && !o.goalGiven:
		return &input.Error{File: "--goal", What: "says what --goal-ms is of", Hint: "add --goal-ms"}
	}
	return nil
}

// target is the goal in SI units.
func (o options) target() runfile.Goal {
	return runfile.Goal{U: o.goal * 1e-3, Next: o.goalOf == "next"}
}
