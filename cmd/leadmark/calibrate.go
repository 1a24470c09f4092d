package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leadmark/calib"
	"leadmark/calib/input"
	"leadmark/calib/read"
	"leadmark/calib/read/cache"
	"leadmark/calib/rig"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/report"
	"leadmark/vision/frame"
)

// calibrateOptions are the flags of calibrate that do not stand for keys of run.toml.
type calibrateOptions struct {
	out, note, readings string
	accept, json, start bool
	follow              bool
	workers             int
	goal                float64 // ms; 0: none
	goalOf              string  // lag or next
	overrides           runfile.Overrides
	rigGiven            bool

	goalGiven, goalOfGiven bool
}

func (a *app) calibrateCommand() *cobra.Command {
	var o calibrateOptions
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
		Args: oneArg("the folder of a run"),
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
	stated, texts := overrideFlags("run.toml", runfile.Settings())
	f.AddFlagSet(stated)
	c.SetUsageFunc(func(c *cobra.Command) error { return statedUsage(c, "run.toml", stated) })
	c.RunE = a.begin(func(c *cobra.Command, args []string) error {
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
			return a.start(c.Context(), args[0], o)
		}
		if o.follow {
			return a.follow(c.Context(), runFolder(args[0]), o)
		}
		return a.calibrate(c.Context(), runFolder(args[0]), o)
	})
	return c
}

// overrideFlags makes the flags that stand for keys of a file; texts holds what they are set to.
func overrideFlags(file string, settings []input.Setting) (flags *pflag.FlagSet, texts map[string]*string) {
	flags, texts = pflag.NewFlagSet(file, pflag.ContinueOnError), map[string]*string{}
	flags.SortFlags = false
	for _, s := range settings {
		texts[s.Key] = flags.String(s.Flag, "", s.Help)
		flags.Lookup(s.Flag).Value = plainValue{flags.Lookup(s.Flag).Value}
		flags.Lookup(s.Flag).Annotations = map[string][]string{ofFile: {file}}
	}
	return flags, texts
}

// ofFile marks a flag that stands for a key of a file, whose name is the annotation's value.
const ofFile = "file"

// plainValue keeps the word "string" out of the help: most of these flags are numbers.
type plainValue struct{ pflag.Value }

func (plainValue) Type() string { return "value" }

// statedUsage lists the flags that stand for keys of a file by themselves.
func statedUsage(c *cobra.Command, file string, stated *pflag.FlagSet) error {
	own := pflag.NewFlagSet("own", pflag.ContinueOnError)
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if stated.Lookup(f.Name) == nil {
			own.AddFlag(f)
		}
	})
	p := &printer{w: c.OutOrStderr()}
	p.linef("Usage:\n  %s\n\nExamples:\n%s\n\nFlags:", c.UseLine(), c.Example)
	p.linef("%s\nGlobal Flags:\n%s", own.FlagUsages(), c.InheritedFlags().FlagUsages())
	p.linef("In the place of keys of %s:\n%s", file, strings.TrimRight(stated.FlagUsages(), "\n"))
	return p.err
}

func (o calibrateOptions) validate() error {
	switch {
	case o.start && (o.accept || o.readings != "" || o.json && !o.goalGiven):
		return &input.Error{File: "--start", What: "writes files to fill in and does nothing else",
			Hint: "leave out --accept, --readings and --json; with --goal-ms, --json prints the plan"}
	case o.follow && (o.start || o.accept || o.readings != "" || o.json):
		return &input.Error{File: "--follow", What: "watches a run come in and prints as it goes",
			Hint: "leave out --start, --accept, --readings and --json; accept the run when it is shot"}
	case o.note != "" && !o.accept:
		return &input.Error{File: "--note", What: "is kept with an accepted calibration", Hint: "add --accept"}
	case o.workers < 0:
		return &input.Error{File: "--workers", What: "cannot be negative"}
	}
	return o.validateGoal()
}

func (o calibrateOptions) validateGoal() error {
	switch {
	case o.goalGiven && !(o.goal > 0 && o.goal < 1e6):
		return &input.Error{File: "--goal-ms", What: fmt.Sprintf("is %v; it must be above 0", o.goal),
			Hint: "give the standard uncertainty to reach in milliseconds, such as 0.2"}
	case o.goalOf != "lag" && o.goalOf != "next":
		return &input.Error{File: "--goal", What: fmt.Sprintf("is %q; it is lag or next", o.goalOf),
			Hint: "lag: how well the mean is known; next: how far the next shot may lie from it"}
	case o.goalOfGiven && !o.goalGiven:
		return &input.Error{File: "--goal", What: "says what --goal-ms is of", Hint: "add --goal-ms"}
	}
	return nil
}

// target is the goal in SI units.
func (o calibrateOptions) target() runfile.Goal {
	return runfile.Goal{U: o.goal * 1e-3, Next: o.goalOf == "next"}
}

// runFolder lets a run be named by its run.toml.
func runFolder(run string) string {
	if info, err := os.Stat(run); err == nil && info.Mode().IsRegular() && filepath.Base(run) == runfile.RunFileName {
		return filepath.Dir(run)
	}
	return run
}

// calibrate is the whole path: what can be wrong is found before the long work, and the rig's
// profile is touched last of all.
func (a *app) calibrate(ctx context.Context, dir string, o calibrateOptions) error {
	run, err := runfile.Load(dir, o.overrides)
	if err != nil {
		return err
	}
	ready, err := a.makeReady(run, dir, o)
	if err != nil {
		return err
	}
	prepareRun(ready.profile, o.target())(&run)
	result, err := a.result(ctx, run, ready.memory, o)
	if err == nil {
		err = a.writeReport(ctx, ready.out, result, ready.memory, o)
	}
	a.closeMemory(ready.memory)
	if err != nil {
		return err
	}
	done := finished{result: result, page: filepath.Join(ready.out.path, "report.html")}
	if !o.accept {
		return a.tell(done, o.json)
	}
	if err := rig.Acceptable(result); err != nil {
		what, hint := input.Describe(err)
		return errors.Join(a.tell(done, o.json), &input.NoResult{What: what, Hint: hint + ": " + done.page})
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	var added rig.Appended
	err = a.written.file("the profile of "+run.Rig, func() (err error) {
		added, err = ready.store.Accept(ctx, ready.profile, result, a.now(), o.note)
		return err
	})
	if errors.Is(err, context.Canceled) {
		return err
	}
	if err != nil {
		return fmt.Errorf("%w\nhint: the report was written: %s", err, done.page)
	}
	done.added = &added
	done.against, err = againstLast(ready.store, run.Rig, added.Before+1)
	return errors.Join(err, a.tell(done, o.json))
}

// againstLast holds an accepted calibration against the one before it, under the same set-up.
func againstLast(store rig.Store, name string, number int) ([]string, error) {
	h, err := store.History(name)
	if err != nil {
		return nil, err
	}
	this, ok := h.Entry(number)
	last, before := h.Previous(number)
	switch {
	case !ok:
		return nil, nil
	case !before && number > 1:
		earlier, _ := h.Entry(number - 1)
		why := strings.Join(earlier.On().Differences(this.On()), "; ")
		if why == "" {
			return nil, nil // the same run again
		}
		return []string{fmt.Sprintf("note: there is no earlier calibration of this set-up to hold it against "+
			"(calibration %d: %s)", number-1, why)}, nil
	case !before:
		return nil, nil
	}
	c, err := rig.Compare(last, this, rig.CompareOptions{})
	if err != nil {
		return []string{"note: it could not be held against the calibration before it: " + err.Error()}, nil
	}
	var lines []string
	for _, d := range c.Disagreements() {
		lines = append(lines, "warning: it disagrees with the calibration before it: "+d+"; find out what changed before relying on either, or put the earlier one back with: leadmark rig restore "+name+fmt.Sprintf(" %d", last.Number))
	}
	return lines, nil
}

// readied is what a run needs besides its frames, found before the long work.
type readied struct {
	store   rig.Store
	profile rig.Profile
	out     outDir
	memory  *cache.Cache // to be closed; nil where there is none
}

func (a *app) makeReady(run runfile.Run, dir string, o calibrateOptions) (readied, error) {
	var r readied
	var err error
	if r.store, r.profile, err = a.checkRig(run.Rig, o); err != nil {
		return r, err
	}
	a.written.around(o.out)
	if r.out, err = chooseOut(o.out, dir); err != nil {
		return r, err
	}
	if o.readings == "" { // else no pictures are looked at
		r.memory = cache.Open(run.Dir, thisProgram())
	}
	return r, nil
}

// checkRig finds before the long work that a profile is missing or cannot be written, and loads it. A
// profile that is only named in run.toml need not be there.
func (a *app) checkRig(name string, o calibrateOptions) (rig.Store, rig.Profile, error) {
	store, err := a.store()
	if err != nil {
		return store, rig.Profile{}, err
	}
	switch {
	case o.accept && name == "":
		return store, rig.Profile{}, &input.Error{File: "--accept",
			What: "needs to know which rig was calibrated", Hint: "add --rig NAME, or rig = \"NAME\" to run.toml"}
	case o.accept:
		if err := store.Ready(name); err != nil {
			return store, rig.Profile{}, err
		}
	case !o.rigGiven && !store.Has(name):
		return store, rig.Profile{}, nil
	}
	profile, err := store.Load(name)
	return store, profile, err
}

// closeMemory ends what is remembered, and says what kept it from being so.
func (a *app) closeMemory(m *cache.Cache) {
	m.Close()
	if note := m.Note(); note != "" {
		fmt.Fprintln(a.stderr, "note:", note)
	}
}

// result reads the frames, or takes readings made by hand, and estimates.
func (a *app) result(ctx context.Context, run runfile.Run, memory *cache.Cache,
	o calibrateOptions) (calib.Result, error) {
	if o.readings != "" {
		readings, err := runfile.LoadReadings(o.readings, run)
		if err != nil {
			return calib.Result{}, err
		}
		return calib.FromReadings(run, readings)
	}
	folder, err := listFolder(ctx, run.Dir)
	if err != nil {
		return calib.Result{}, err
	}
	collectEarly(folder.Frames, o.workers)
	p := a.progress("reading the frames")
	defer p.end()
	return calib.Calibrate(ctx, run, folder, read.Options{Look: memory.Look(a.look), Cache: memory,
		Shift: a.shift, Progress: p.step, Workers: o.workers})
}

// listFolder lists the frames of a folder.
func listFolder(ctx context.Context, dir string) (read.Folder, error) {
	frames, refused, err := frame.List(ctx, dir)
	if err != nil {
		return read.Folder{}, err
	}
	if len(frames)+len(refused) == 0 {
		return read.Folder{}, &input.Error{File: dir, What: "holds no frames",
			Hint: "copy the frames (JPEG, PNG or TIFF) into this folder"}
	}
	return read.Folder{Frames: frames, Refused: refused}, nil
}

func (a *app) writeReport(ctx context.Context, out outDir, r calib.Result, memory *cache.Cache,
	o calibrateOptions) error {
	p := a.progress("drawing the report")
	defer p.end()
	return a.fill(ctx, out, "the report", func(dir string) error {
		options := report.Options{Progress: p.step, Made: a.now(), Version: version(), Program: thisProgram(),
			Workers: o.workers}
		if o.readings == "" {
			options.Picture = memory.Clips
		}
		return report.Write(ctx, dir, r, options)
	})
}

// oneArg wants exactly one argument and says which.
func oneArg(what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) == 1 {
			return nil
		}
		return fmt.Errorf("give %s; %d arguments were given", what, len(args))
	}
}
