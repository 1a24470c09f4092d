package check

import (
	"context"
	"path/filepath"
	"time"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/shoot"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/planning"
)

// checkPlan reads the shoot and plans it anew from the rig and the subject as they are now.
func checkPlan(ctx context.Context, env *command.Env, dir string, o *options) (shoot.Setup, plan.Plan, error) {
	s, err := shoot.Load(dir)
	if err != nil {
		return s, plan.Plan{}, err
	}
	if o.Rig == "" {
		o.Rig = s.Rig
	}
	if o.Subject == "" {
		o.Subject = s.Subject
	}
	s.Subject = o.Subject
	switch {
	case o.Subject == "":
		return s, plan.Plan{}, &input.Error{File: filepath.Join(dir, shoot.FileName),
			What: "subject is not stated", Hint: "name the subject's file in shoot.toml or with --subject"}
	case o.force && !o.xmp && o.cutouts == "":
		return s, plan.Plan{}, &input.Error{File: "--force", What: "is for ratings in sidecars and for cut-outs",
			Hint: "add --xmp or --cutouts"}
	case s.Rig != "" && o.Given("lag-ms") && !o.Given("rig"):
		if store, err := env.Store(); err != nil || !store.Has(o.Rig) {
			o.Rig = "" // only named, and its lag is assumed
		}
	}
	if err := o.Validate(); err != nil {
		return s, plan.Plan{}, err
	}
	req, err := planning.Request(ctx, env, o.Options)
	if err != nil {
		return s, plan.Plan{}, err
	}
	req.Options.PrintLong = plan.DefaultOptions().PrintLong
	p, err := plan.Make(req)
	return s, p, err
}

// calibrated is when the calibration in force was accepted; zero where the lag is assumed.
func calibrated(env *command.Env, o options) time.Time {
	if o.Rig == "" || o.Given("lag-ms") {
		return time.Time{}
	}
	store, err := env.Store()
	if err != nil {
		return time.Time{}
	}
	h, err := store.History(o.Rig)
	if err != nil {
		return time.Time{}
	}
	if f, ok := h.InForce(); ok {
		return f.Entry.Accepted
	}
	return time.Time{}
}
