package planning

import (
	"context"

	"github.com/spf13/cobra"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/plan/subject"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/manual"
)

// Command makes plan.
func Command(env *command.Env) *cobra.Command {
	o := Options{Settings: plan.DefaultOptions()}
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
	stated, texts := manual.Keys("subject.toml", subject.Settings())
	f.AddFlagSet(stated)
	c.SetUsageFunc(func(c *cobra.Command) error { return manual.Usage(c, "subject.toml", stated) })
	c.RunE = env.Begin(func(c *cobra.Command, _ []string) error {
		for _, s := range subject.Settings() {
			if f.Changed(s.Flag) {
				o.overrides.Set(s.Key, *texts[s.Key])
			}
		}
		o.Given, o.Stated = f.Changed, command.Settings(c)
		return makePlan(c.Context(), env, o)
	})
	return c
}

func makePlan(ctx context.Context, env *command.Env, o Options) error {
	switch {
	case o.presets:
		return printPresets(env)
	case o.write != "" && o.preset != "":
		return writePreset(env, o.preset, o.write)
	}
	if err := o.Validate(); err != nil {
		return err
	}
	if o.Subject == "" && o.preset == "" && len(o.overrides.Text()) == 0 {
		return &input.Error{File: "--subject", What: "is not stated",
			Hint: "give the subject's file, or --preset NAME; leadmark plan --presets lists them"}
	}
	req, err := Request(ctx, env, o)
	if err != nil {
		return err
	}
	p, err := plan.Make(req)
	if err != nil {
		return err
	}
	if o.figure != "" {
		if err := writeFigure(ctx, env, o.figure, p, o.dark); err != nil {
			return err
		}
	}
	if o.json {
		text, err := plan.Encode(p)
		if err != nil {
			return err
		}
		_, err = env.Stdout.Write(text)
		return err
	}
	return printPlan(env, p, o.figure)
}
