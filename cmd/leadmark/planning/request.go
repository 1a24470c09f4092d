package planning

import (
	"context"

	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/cmd/leadmark/command"
)

// Request gathers subject, rig and lag.
func Request(ctx context.Context, env *command.Env, o Options) (plan.Request, error) {
	req := plan.Request{Options: o.Settings, Settings: o.Stated}
	req.Options.Field, req.Options.PrintLong = o.field*1e-3, o.print*1e-3
	if o.Given("delay-ms") {
		d := o.Delay * 1e-3
		req.Options.Delay = &d
	}
	if o.Given("moment") {
		at := o.moment * 1e-3
		req.Options.Moment = &at
	}
	var err error
	if o.preset != "" {
		req.Subject, err = subject.LoadPreset(o.preset, o.overrides)
	} else {
		req.Subject, err = subject.Load(o.Subject, o.overrides)
	}
	if err != nil {
		return req, err
	}
	if req.Options.Colours, err = subjectColours(ctx, o, env.Picture); err != nil {
		return req, err
	}
	return req, planRig(env, &req, o)
}

// planRig reads the rig and the law of its lag.
func planRig(env *command.Env, req *plan.Request, o Options) error {
	if o.Rig == "" {
		req.Lag = predict.AssumedLag(o.Lag*1e-3, o.Spread*1e-3)
		return nil
	}
	store, err := env.Store()
	if err != nil {
		return err
	}
	var assumed *predict.Law
	if o.Given("lag-ms") {
		law := predict.AssumedLag(o.Lag*1e-3, o.Spread*1e-3)
		assumed = &law
	}
	return req.UseRig(store, o.Rig, assumed, env.Now())
}
