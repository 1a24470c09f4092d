package calibrate

import (
	"github.com/spf13/cobra"

	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/manual"
)

// Command makes calibrate.
func Command(env *command.Env) *cobra.Command {
	var o options
	c := &cobra.Command{
		Use:   "calibrate RUN",
		Short: "Turn a folder of ruler frames into the rig's lag and spread",
		Long: "Reads the ruler in every frame of the folder RUN, as run.toml and shots.csv there say how the\n" +
			"frames were made, and estimates the lag from the broken beam to the flash, its spread from shot\n" +
			"to shot, and where the beam really trips. A report goes to RUN-report, or to --out.\n" +
			"With --goal-ms it says what to shoot until that uncertainty is reached; with --start as well it\n" +
			"plans a first run, before there is a single frame. With --follow it reads the frames while they are shot.",
		Example: "  leadmark demo night1\n  leadmark calibrate night1\n\n" +
			"  leadmark rig new greenhouse\n  leadmark calibrate night1 --rig greenhouse --accept\n\n" +
			"  leadmark calibrate night2 --start --goal-ms 0.2",
		Args: command.OneArg("the folder of a run"),
	}
	f := c.Flags()
	f.StringVar(&o.out, "out", "", "folder for the report (default RUN-report)")
	f.BoolVar(&o.accept, "accept", false, "add the calibration to the rig's profile")
	f.StringVar(&o.note, "note", "", "a note to keep with it")
	f.BoolVar(&o.json, "json", false, "print result.json on standard output")
	f.StringVar(&o.readings, "readings", "", "CSV file of advances read by hand: frame,advance_mm,u_mm")
	f.BoolVar(&o.start, "start", false, "write run.toml and shots.csv to fill in, and stop")
	f.Float64Var(&o.goal, "goal-ms", 0, "standard uncertainty to reach, ms: says what to shoot for it")
	f.BoolVar(&o.follow, "follow", false, "read the frames as they come, until Ctrl-C, and say what to shoot next")
	f.StringVar(&o.goalOf, "goal", "lag", "what the goal is of: lag, or next, the next shot's lag")
	f.IntVar(&o.workers, "workers", 0, "frames read at once (default: one for each processor)")
	stated, texts := manual.Keys("run.toml", runfile.Settings())
	f.AddFlagSet(stated)
	c.SetUsageFunc(func(c *cobra.Command) error { return manual.Usage(c, "run.toml", stated) })
	c.RunE = env.Begin(func(c *cobra.Command, args []string) error {
		for _, s := range runfile.Settings() {
			if f.Changed(s.Flag) {
				o.overrides.Set(s.Key, *texts[s.Key])
			}
		}
		o.overrides.ByHand = o.readings != ""
		o.rigGiven = f.Changed("rig")
		o.goalGiven, o.goalOfGiven = f.Changed("goal-ms"), f.Changed("goal")
		if err := o.validate(); err != nil {
			return err
		}
		if o.start {
			return startRun(c.Context(), env, args[0], o)
		}
		if o.follow {
			return followRun(c.Context(), env, command.RunFolder(args[0]), o)
		}
		return calibrate(c.Context(), env, command.RunFolder(args[0]), o)
	})
	return c
}
