package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"leadmark/calib/input"
	"leadmark/calib/runfile"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
)

// start writes the description of a run to fill in. With a goal it plans the run first; where there are
// no frames yet the plan is all.
func (a *app) start(ctx context.Context, dir string, o calibrateOptions) error {
	plan, sketch, err := a.firstPlan(dir, o)
	if err != nil {
		return err
	}
	if plan != nil && (o.json || holdsNothing(dir)) {
		return a.tellFirstPlan(*plan, sketch, dir, o.json)
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
		return a.tellFirstPlan(*plan, sketch, dir, false)
	}
	slates, err := a.findSlates(ctx, frames)
	if err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	r, err := a.startFiles(dir, frames, runfile.Known{Slates: slates, Plan: plan}, o.overrides)
	if err != nil {
		return err
	}
	w := &printer{w: a.stdout}
	for _, name := range r.Written {
		w.linef("wrote %s", filepath.Join(dir, name))
	}
	for _, name := range r.Kept {
		w.linef("left %s as it was", filepath.Join(dir, name))
	}
	for _, f := range refused {
		w.linef("%s cannot be used: %s", f.Name, f.Text)
	}
	if plan != nil {
		w.linef("\nplanned:")
		tellPlan(w, *plan)
	}
	w.linef("\nto fill in:")
	for _, what := range r.ToFill {
		w.linef("  %s", what)
	}
	w.linef("\nthen: leadmark calibrate %s", dir)
	return w.err
}

// startFiles writes what is to be filled in.
func (a *app) startFiles(dir string, frames []frame.Frame, known runfile.Known,
	o runfile.Overrides) (runfile.StartReport, error) {
	a.written.begin("each of " + runfile.RunFileName + " and " + runfile.ShotsFileName + " in " + dir)
	r, err := runfile.Start(dir, frames, known, o)
	a.written.done(kind{}, 0)
	for _, name := range r.Written {
		a.written.done(kind{one: filepath.Join(dir, name)}, 1)
	}
	return r, err
}

// findSlates looks for slates in the frames, and for the ruler in those that show one.
func (a *app) findSlates(ctx context.Context, frames []frame.Frame) (map[string]runfile.SlateSeen, error) {
	bar := a.progress("looking for slates")
	defer bar.end()
	found := map[string]runfile.SlateSeen{}
	for i, f := range frames {
		seen, slate, err := a.findSlate(ctx, f)
		var gone *frame.Refusal
		switch {
		case errors.As(err, &gone):
			return nil, &input.Error{File: f.Path, What: "cannot be looked at: " + gone.Text,
				Hint: "nothing was written; run it again"}
		case err != nil:
			return nil, err
		case slate:
			found[f.Name] = seen
		}
		bar.step(i+1, len(frames), f.Name)
	}
	return found, nil
}

// findSlate looks for a slate in a frame, and for the ruler where it shows one.
func (a *app) findSlate(ctx context.Context, f frame.Frame) (seen runfile.SlateSeen, slate bool, err error) {
	symbol, err := a.symbol(ctx, f)
	if err != nil {
		return seen, false, err
	}
	if _, slate, _ = runfile.ParseSlate(symbol.Text); !slate {
		return seen, false, nil
	}
	sighting, err := a.look(ctx, f, ruler.Hint{})
	if err != nil {
		return seen, false, err
	}
	r := reading.Interpret(sighting, ruler.Spec{})
	return runfile.SlateSeen{Text: symbol.Text, WithRuler: r.Status == ruler.StatusRead}, true, nil
}
