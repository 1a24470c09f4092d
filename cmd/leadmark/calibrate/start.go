package calibrate

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"leadmark/calib/input"
	"leadmark/calib/runfile"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/output"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/fit/design"
	"leadmark/vision/frame"
)

// startRun writes the description of a run to fill in. With a goal it plans the run first; where
// there are no frames yet the plan is all.
func startRun(ctx context.Context, env *command.Env, dir string, o options) error {
	plan, sketch, err := firstPlan(env, dir, o)
	if err != nil {
		return err
	}
	if plan != nil && (o.json || command.HoldsNothing(dir)) {
		return printFirstPlan(env, *plan, sketch, dir, o.json)
	}
	if _, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) {
		return &input.Error{File: dir, What: "there is no such folder",
			Hint: "make it and copy the frames of one run into it"}
	}
	frames, refused, err := frame.List(ctx, dir)
	if err != nil {
		return &input.Error{What: err.Error()}
	}
	if plan != nil && len(frames) == 0 {
		return printFirstPlan(env, *plan, sketch, dir, false)
	}
	slates, err := findSlates(ctx, env, frames)
	if err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	r, err := startFiles(env, dir, frames, runfile.Known{Slates: slates, Plan: plan}, o.overrides)
	if err != nil {
		return err
	}
	return printStarted(env, dir, r, refused, plan)
}

// printStarted says what was written and what is to be filled in.
func printStarted(env *command.Env, dir string, r runfile.StartReport, refused []frame.Refusal,
	plan *design.Schedule) error {
	w := terminal.NewPrinter(env.Stdout)
	for _, name := range r.Written {
		w.Linef("wrote %s", filepath.Join(dir, name))
	}
	for _, name := range r.Kept {
		w.Linef("left %s as it was", filepath.Join(dir, name))
	}
	for _, f := range refused {
		w.Linef("%s cannot be used: %s", f.Name, words.Sentence(f.Note))
	}
	if plan != nil {
		w.Linef("\nplanned:")
		printSchedule(w, *plan)
	}
	w.Linef("\nto fill in:")
	for _, what := range r.ToFill {
		w.Linef("  %s", what)
	}
	w.Linef("\nthen: leadmark calibrate %s", dir)
	return w.Err()
}

// startFiles writes what is to be filled in.
func startFiles(env *command.Env, dir string, frames []frame.Frame, known runfile.Known,
	o runfile.Overrides) (runfile.StartReport, error) {
	env.Written.Begin("each of " + runfile.RunFileName + " and " + runfile.ShotsFileName + " in " + dir)
	r, err := runfile.Start(dir, frames, known, o)
	env.Written.Done(output.Kind{}, 0)
	for _, name := range r.Written {
		env.Written.Done(output.Kind{One: filepath.Join(dir, name)}, 1)
	}
	return r, err
}
