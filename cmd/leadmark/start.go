package main

import (
	"context"
	"path/filepath"

	"leadmark/calib"
	"leadmark/frame"
)

// start writes the description of a run to fill in.
func (a *app) start(ctx context.Context, dir string, o calibrateOptions) error {
	frames, refused, err := frame.List(ctx, dir)
	if err != nil {
		return &calib.InputError{What: err.Error()}
	}
	r, err := calib.Start(dir, frames, o.overrides)
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
	w.linef("\nto fill in:")
	for _, what := range r.ToFill {
		w.linef("  %s", what)
	}
	w.linef("\nthen: leadmark calibrate %s", dir)
	return w.err
}
