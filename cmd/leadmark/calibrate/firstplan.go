package calibrate

import (
	"os"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/calib/runfile"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/fit/design"
)

// firstPlan plans a first run from nothing but a goal, within what the rig allows; nil where no
// goal is given.
func firstPlan(env *command.Env, dir string, o options) (*design.Schedule, runfile.Run, error) {
	if !o.goalGiven {
		return nil, runfile.Run{}, nil
	}
	run, err := runfile.Sketch(dir, o.overrides)
	if err != nil {
		return nil, run, err
	}
	store, profile, err := checkRig(env, run.Rig, o)
	if err != nil {
		return nil, run, err
	}
	run.Limits, run.Goal, run.Earlier = profile.Limits.OfRun(), o.target(), store.Earlier(run.Rig)
	s, err := calib.PlanFirst(run)
	return &s, run, err
}

// printFirstPlan prints a plan and writes nothing.
func printFirstPlan(env *command.Env, s design.Schedule, run runfile.Run, dir string, json bool) error {
	if json {
		return terminal.JSON(env.Stdout, record.NewFirstPlan(run, s))
	}
	p := terminal.NewPrinter(env.Stdout)
	p.Linef("A first run for this goal:")
	printSchedule(p, s)
	into := "copy the frames into " + dir
	if _, err := os.Stat(dir); err != nil {
		into = "make the folder " + dir + " and copy the frames into it"
	}
	p.Linef("\nShoot it, %s, then run this again to have shots.csv filled in as planned.", into)
	return p.Err()
}

// printSchedule says what to shoot now, a line a batch, and the whole in words.
func printSchedule(p *terminal.Printer, s design.Schedule) {
	for _, b := range s.Stage {
		p.Linef("%s", terminal.Hanging("  ", "now: "+words.Batch(b)))
	}
	p.Linef("%s", terminal.Hanging("  ", terminal.Sentence(words.Schedule(s))))
}
