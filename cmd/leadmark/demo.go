package main

import (
	"errors"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"leadmark/calib"
	"leadmark/ruler/rulertest"
)

func (a *app) demoCommand() *cobra.Command {
	var seed int64
	c := &cobra.Command{
		Use:   "demo DIR",
		Short: "Draw an invented run to try everything on",
		Long: "Draws the frames of an invented run, a ruler let fall through the beam before a bee's nest tube\n" +
			"in a greenhouse, with its run.toml and shots.csv, and the truth in truth.json beside them.",
		Example: "  leadmark demo night1\n  leadmark calibrate night1",
		Args:    oneArg("a folder to make"),
	}
	c.Flags().Int64Var(&seed, "seed", 1, "another number draws another run")
	c.RunE = a.begin(func(_ *cobra.Command, args []string) error { return a.demo(args[0], seed) })
	return c
}

// demo draws into a folder that is new or empty.
func (a *app) demo(dir string, seed int64) error {
	entries, err := os.ReadDir(dir)
	switch {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return &calib.InputError{File: dir, What: "cannot take the run: it is not a folder that can be looked into", Hint: "name a new folder"}
	case len(entries) > 0:
		return &calib.InputError{File: dir, What: "is there already and is not empty; nothing was written", Hint: "name a new folder"}
	}
	truth, err := rulertest.WriteRun(dir, rulertest.DemoRun(seed))
	if err != nil {
		return err
	}
	p := &printer{w: a.stdout}
	p.linef("Drew %d frames of an invented run in %s; the truth is in truth.json.", len(truth.Frames), dir)
	p.linef("Now: leadmark calibrate %s", dir)
	return p.err
}
