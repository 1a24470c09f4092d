package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/store"
)

// planOptions are the flags of plan that do not stand for keys of subject.toml.
type planOptions struct {
	rig, subject, preset, write string
	presets, json, dark         bool
	figure, colour, colourFrom  string
	lag, spread                 float64 // ms
	delay, moment               float64 // ms, mm
	field, print                float64 // mm
	settings                    plan.Options
	overrides                   input.Overrides
	stated                      map[string]string
	given                       func(flag string) bool
}

func (a *app) planCommand() *cobra.Command {
	o := planOptions{settings: plan.DefaultOptions()}
	c := &cobra.Command{
		Use:   "plan",
		Short: "Say where the subject will be, and how to frame, focus and light it",
		Long: "From a calibrated rig and a subject: where the whole body is when the flash fires, the field, the\n" +
			"aperture and the flash powers for it, and the chance of a keeper in each trip. The subject is " +
			"described in\n" +
			"a file (--subject), or taken from a group of animals (--preset; --presets lists them, --write " +
			"writes one to\n" +
			"edit); each of its values can be given as a flag. Without a calibrated rig --lag-ms and " +
			"--spread-ms are\n" +
			"assumed, and marked so.",
		Example: "  leadmark plan --presets\n  leadmark plan --preset mason-bee --lag-ms 52 --spread-ms 0.8\n" +
			"  leadmark plan --preset mason-bee --write bee.toml\n  leadmark rig new greenhouse\n" +
			"  leadmark plan --rig greenhouse --subject bee.toml --lag-ms 52 --spread-ms 0.8 --figure bee.svg",
		Args: cobra.NoArgs,
	}
	f := c.Flags()
	planFlags(f, &o)
	stated, texts := overrideFlags("subject.toml", subject.Settings())
	f.AddFlagSet(stated)
	c.SetUsageFunc(func(c *cobra.Command) error { return statedUsage(c, "subject.toml", stated) })
	c.RunE = a.begin(func(c *cobra.Command, _ []string) error {
		for _, s := range subject.Settings() {
			if f.Changed(s.Flag) {
				o.overrides.Set(s.Key, *texts[s.Key])
			}
		}
		o.given, o.stated = f.Changed, settings(c)
		return a.plan(c.Context(), o)
	})
	return c
}

func planFlags(f *pflag.FlagSet, o *planOptions) {
	s := &o.settings
	f.StringVar(&o.rig, "rig", "", "the rig's profile: camera, lens, heads and its calibration in force")
	f.StringVar(&o.subject, "subject", "", "the subject's file, subject.toml")
	f.StringVar(&o.preset, "preset", "", "a group of animals to begin with")
	f.BoolVar(&o.presets, "presets", false, "list the groups of animals there are")
	f.StringVar(&o.write, "write", "", "with --preset: write its subject.toml to this file, and stop")
	f.Float64Var(&o.lag, "lag-ms", 0, "assumed lag, ms, in the place of a calibration")
	f.Float64Var(&o.spread, "spread-ms", 0, "assumed spread from shot to shot, ms")
	f.Float64Var(&o.delay, "delay-ms", 0, "added delay, ms (default: the rig's)")
	f.Float64Var(&s.Probability, "probability", s.Probability, "that the reach holds the whole body")
	f.Float64Var(&o.moment, "moment", 0, "where the nose is to be at the flash, mm past the trip point")
	f.Float64Var(&o.field, "field-mm", 0, "width of the picture's field, mm: what it holds (default: the "+
		"smallest for the reach)")
	f.StringVar(&s.Orientation, "orientation", "",
		"landscape or portrait (default: the one that needs the smaller field)")
	f.Float64Var(&s.FNumber, "f-number", 0, "aperture (default: the one that balances best)")
	f.Float64Var(&s.ISO, "iso", 0, "ISO speed (default: the rig's, and what the steps of the power ask for)")
	f.Float64Var(&s.Exposure, "exposure-s", 0, "shutter time, s (default: the rig's sync time)")
	f.Float64Var(&o.print, "print-mm", s.PrintLong*1e3, "long side of the print on which the blur is judged, mm")
	f.StringVar(&o.colour, "colour", "", "the subject's colour, such as #c08040: blue or green backdrop")
	f.StringVar(&o.colourFrom, "colour-from", "", "a picture whose middle shows the subject, for the same")
	f.StringVar(&o.figure, "figure", "", "file to draw the set to, .svg or .png")
	f.BoolVar(&o.dark, "dark", false, "draw a .png for a dark screen (an .svg fits both)")
	f.IntVar(&s.Draws, "draws", s.Draws, "trips drawn")
	f.Uint64Var(&s.Seed, "seed", s.Seed, "of the drawing: the same seed gives the same plan")
	f.BoolVar(&o.json, "json", false, "print plan.json on standard output")
}

func (o planOptions) validate() error {
	switch {
	case o.subject != "" && o.preset != "":
		return &input.Error{File: "--preset", What: "and --subject both say what the subject is",
			Hint: "keep one; --preset NAME --write FILE makes a file to edit"}
	case o.write != "" && o.preset == "":
		return &input.Error{File: "--write", What: "writes a preset to edit", Hint: "add --preset NAME"}
	case o.given("lag-ms") != o.given("spread-ms"):
		return &input.Error{File: "--lag-ms", What: "and --spread-ms go together",
			Hint: "a lag is assumed with its spread from shot to shot"}
	case o.given("lag-ms") && !(o.lag > 0 && o.lag <= 60_000):
		return &input.Error{File: "--lag-ms", What: fmt.Sprintf("is %g; it must be above 0", o.lag),
			Hint: "give it in milliseconds"}
	case o.given("spread-ms") && !(o.spread >= 0 && o.spread <= 60_000):
		return &input.Error{File: "--spread-ms", What: fmt.Sprintf("is %g; it cannot be negative", o.spread),
			Hint: "give it in milliseconds"}
	case o.rig == "" && !o.given("lag-ms"):
		return &input.Error{File: "--rig", What: "is not stated",
			Hint: "name a calibrated rig, or assume its lag: --lag-ms L --spread-ms S"}
	case o.dark && !strings.EqualFold(filepath.Ext(o.figure), ".png"):
		return &input.Error{File: "--dark", What: "is for a .png",
			Hint: "add --figure FILE.png; an .svg fits light and dark screens by itself"}
	}
	for _, v := range []struct {
		flag string
		x    float64
	}{{"field-mm", o.field}, {"print-mm", o.print}, {"f-number", o.settings.FNumber}, {"iso", o.settings.ISO},
		{"exposure-s", o.settings.Exposure}} {
		if o.given(v.flag) && !(v.x > 0) {
			return &input.Error{File: "--" + v.flag, What: fmt.Sprintf("is %g; it must be above 0", v.x),
				Hint: "check the value and its unit"}
		}
	}
	return figureKind(o.figure)
}

func (a *app) plan(ctx context.Context, o planOptions) error {
	switch {
	case o.presets:
		return a.tellPresets()
	case o.write != "" && o.preset != "":
		return a.writePreset(o.preset, o.write)
	}
	if err := o.validate(); err != nil {
		return err
	}
	if o.subject == "" && o.preset == "" && len(o.overrides.Text()) == 0 {
		return &input.Error{File: "--subject", What: "is not stated",
			Hint: "give the subject's file, or --preset NAME; leadmark plan --presets lists them"}
	}
	req, err := a.planRequest(ctx, o)
	if err != nil {
		return err
	}
	p, err := plan.Make(req)
	if err != nil {
		return err
	}
	if o.figure != "" {
		if err := a.writeFigure(ctx, o.figure, p, o.dark); err != nil {
			return err
		}
	}
	if o.json {
		text, err := plan.Encode(p)
		if err != nil {
			return err
		}
		_, err = a.stdout.Write(text)
		return err
	}
	return a.tellPlanned(p, o.figure)
}

// planRequest gathers subject, rig and lag.
func (a *app) planRequest(ctx context.Context, o planOptions) (plan.Request, error) {
	req := plan.Request{Options: o.settings, Settings: o.stated}
	req.Options.Field, req.Options.PrintLong = o.field*1e-3, o.print*1e-3
	if o.given("delay-ms") {
		d := o.delay * 1e-3
		req.Options.Delay = &d
	}
	if o.given("moment") {
		at := o.moment * 1e-3
		req.Options.Moment = &at
	}
	var err error
	if o.preset != "" {
		req.Subject, err = subject.LoadPreset(o.preset, o.overrides)
	} else {
		req.Subject, err = subject.Load(o.subject, o.overrides)
	}
	if err != nil {
		return req, err
	}
	if req.Options.Colours, err = subjectColours(ctx, o, a.picture); err != nil {
		return req, err
	}
	return req, a.planRig(&req, o)
}

// planRig reads the rig and the law of its lag.
func (a *app) planRig(req *plan.Request, o planOptions) error {
	if o.rig == "" {
		req.Lag = predict.AssumedLag(o.lag*1e-3, o.spread*1e-3)
		return nil
	}
	store, err := a.store()
	if err != nil {
		return err
	}
	var assumed *predict.Law
	if o.given("lag-ms") {
		law := predict.AssumedLag(o.lag*1e-3, o.spread*1e-3)
		assumed = &law
	}
	return req.UseRig(store, o.rig, assumed, a.now())
}

// writePreset writes a preset's file to edit, and never over another.
func (a *app) writePreset(name, path string) error {
	text, err := subject.PresetText(name)
	if err != nil {
		return err
	}
	made := false
	err = a.written.file(path, func() (err error) {
		made, err = store.Create(store.System(), path, text)
		return err
	})
	switch {
	case err != nil:
		return err
	case !made:
		return &input.Error{File: path, What: "is there already; nothing was written", Hint: "name another file"}
	}
	_, err = io.WriteString(a.stdout, "wrote "+path+": change what you know better, then: leadmark plan "+
		"--rig NAME --subject "+path+"\n")
	return err
}
