package check

import (
	"context"
	"path/filepath"

	"github.com/spf13/cobra"

	"leadmark/calib/input"
	"leadmark/calib/plan"
	"leadmark/calib/shoot"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/output"
	"leadmark/cmd/leadmark/planning"
	"leadmark/cmd/leadmark/report"
)

// Command makes check.
func Command(env *command.Env) *cobra.Command {
	o := options{Options: planning.Options{Settings: plan.DefaultOptions()}}
	c := &cobra.Command{
		Use:   "check SHOOT",
		Short: "Hold the real frames against the plan, rate them and learn the subject's speed",
		Long: "SHOOT is a folder of frames of the real subject, with shoot.toml: rig, subject, travel, " +
			"[trip] line_px, and\n" +
			"the scale. Says of each frame whether the animal is whole, sharp and inside the reach, whether " +
			"the plan held,\n" +
			"and what the frames teach of the subject's speed. Picture files are never changed. With --start " +
			"it writes\n" +
			"a shoot.toml to fill in.",
		Example: "  leadmark demo bees1 --shoot\n  leadmark check bees1 --lag-ms 38.4 --spread-ms 0.7\n  " +
			"leadmark check bees1 --lag-ms 38.4 --spread-ms 0.7 --learn --xmp",
		Args: command.OneArg("the folder of the shoot"),
	}
	f := c.Flags()
	f.StringVar(&o.Rig, "rig", "", "the rig's profile (default: shoot.toml's)")
	f.StringVar(&o.Subject, "subject", "", "the subject's file (default: shoot.toml's)")
	f.Float64Var(&o.Lag, "lag-ms", 0, "assumed lag, ms, in the place of a calibration")
	f.Float64Var(&o.Spread, "spread-ms", 0, "assumed spread from shot to shot, ms")
	f.Float64Var(&o.Delay, "delay-ms", 0, "added delay at the shoot, ms (default: the rig's)")
	f.Float64Var(&o.Settings.Probability, "probability", o.Settings.Probability,
		"that the plan's reach holds the whole body")
	f.StringVar(&o.out, "out", "", "folder for shoot.json, frames.csv and the contact sheet (default: SHOOT-check)")
	f.BoolVar(&o.json, "json", false, "print shoot.json on standard output")
	f.BoolVar(&o.xmp, "xmp", false, "write each frame's rating to an XMP sidecar beside it; one that has a "+
		"rating is left alone")
	f.StringVar(&o.cutouts, "cutouts", "", "folder for the animals cut out at full size, PNG with opacity")
	f.BoolVar(&o.force, "force", false, "with --xmp or --cutouts: replace ratings or cut-outs that are there")
	f.BoolVar(&o.learn, "learn", false, "write a new subject file with the learned speed beside the old one")
	f.BoolVar(&o.start, "start", false, "write a shoot.toml to fill in, and stop")
	c.RunE = env.Begin(func(c *cobra.Command, args []string) error {
		o.Given, o.Stated = f.Changed, command.Settings(c)
		if o.start {
			return startShoot(env, args[0], o)
		}
		return checkShoot(c.Context(), env, args[0], o)
	})
	return c
}

func checkShoot(ctx context.Context, env *command.Env, dir string, o options) error {
	s, p, err := checkPlan(ctx, env, dir, &o)
	if err != nil {
		return err
	}
	env.Written.Around(o.out)
	out, err := output.Choose(o.out, dir, "-check", isCheck)
	if err != nil {
		return err
	}
	if o.cutouts != "" {
		if err := apart(o.cutouts, dir); err != nil {
			return err
		}
	}
	r, scene, err := checkFrames(ctx, env, s, p, o)
	if err != nil {
		return err
	}
	r.Warnings = append(r.Warnings, p.Request.Notes...)
	notes, err := writeResults(ctx, env, scene, r, out, o)
	if err != nil {
		return err
	}
	if o.json {
		text, err := shoot.Encode(r)
		if err != nil {
			return err
		}
		_, err = env.Stdout.Write(text)
		return err
	}
	return printShoot(env, r, append(notes, "Frame by frame: "+filepath.Join(out.Path, "contact.html")))
}

// isCheck reports whether a folder holds an earlier check of ours.
func isCheck(dir string) bool {
	text, err := input.ReadBounded(filepath.Join(dir, report.ShootFile), 256<<20)
	return err == nil && shoot.IsDocument(text)
}
