package main

import (
	"errors"
	"io/fs"
	"os"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/calib/runfile"
	"leadmark/fit/design"
)

// firstPlan plans a first run from nothing but a goal, within what the rig allows; nil where no goal is
// given.
func (a *app) firstPlan(dir string, o calibrateOptions) (*design.Schedule, runfile.Run, error) {
	if !o.goalGiven {
		return nil, runfile.Run{}, nil
	}
	run, err := runfile.Sketch(dir, o.overrides)
	if err != nil {
		return nil, run, err
	}
	store, profile, err := a.checkRig(run.Rig, o)
	if err != nil {
		return nil, run, err
	}
	run.Limits, run.Goal, run.Earlier = profile.Limits.OfRun(), o.target(), store.Earlier(run.Rig)
	s, err := calib.PlanFirst(run)
	return &s, run, err
}

// holdsNothing reports whether a folder is not there, or empty.
func holdsNothing(dir string) bool {
	entries, err := os.ReadDir(dir)
	return errors.Is(err, fs.ErrNotExist) || err == nil && len(entries) == 0
}

// tellFirstPlan prints a plan and writes nothing.
func (a *app) tellFirstPlan(s design.Schedule, run runfile.Run, dir string, json bool) error {
	if json {
		return a.printJSON(record.NewFirstPlan(run, s))
	}
	p := &printer{w: a.stdout}
	p.linef("A first run for this goal:")
	tellPlan(p, s)
	into := "copy the frames into " + dir
	if _, err := os.Stat(dir); err != nil {
		into = "make the folder " + dir + " and copy the frames into it"
	}
	p.linef("\nShoot it, %s, then run this again to have shots.csv filled in as planned.", into)
	return p.err
}
