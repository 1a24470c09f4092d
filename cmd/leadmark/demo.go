package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

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
	c.Flags().Int64Var(&seed, "seed", 2, "another number draws another run")
	c.RunE = a.begin(func(c *cobra.Command, args []string) error { return a.demo(c.Context(), args[0], seed) })
	return c
}

// demo draws into a folder that is new or empty.
func (a *app) demo(ctx context.Context, dir string, seed int64) error {
	dir = filepath.Clean(dir) // a slash at the end would name a place inside
	entries, err := os.ReadDir(dir)
	switch {
	case dir == "." || dir == "..":
		return &calib.InputError{File: dir, What: "cannot take the run: the folder is made by the program", Hint: "name a new folder"}
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return &calib.InputError{File: dir, What: "cannot take the run: it is not a folder that can be looked into", Hint: "name a new folder"}
	case len(entries) > 0:
		return &calib.InputError{File: dir, What: "is there already and is not empty; nothing was written", Hint: "name a new folder"}
	}
	frames, err := drawDemo(ctx, dir, err == nil, seed)
	if err != nil {
		return err
	}
	p := &printer{w: a.stdout}
	p.linef("Drew %d frames of an invented run in %s; the truth is in truth.json.", frames, dir)
	p.linef("Now: leadmark calibrate %s", dir)
	return p.err
}

// drawDemo draws in a folder of its own, which takes its name when all is there: a run that was
// broken off leaves nothing behind.
func drawDemo(ctx context.Context, dir string, there bool, seed int64) (frames int, err error) {
	if err := checkParent(dir); err != nil {
		return 0, err
	}
	part := fmt.Sprintf("%s.part%d", filepath.Clean(dir), os.Getpid())
	drawn := make(chan error, 1)
	var truth rulertest.RunTruth
	go func() { // the drawing cannot be stopped; when it must, the program ends without it
		var err error
		truth, err = rulertest.WriteRun(part, rulertest.DemoRun(seed))
		drawn <- err
	}()
	select {
	case err = <-drawn:
	case <-ctx.Done():
		return 0, errors.Join(ctx.Err(), os.RemoveAll(part))
	}
	if err == nil && there {
		err = os.Remove(dir)
	}
	if err == nil {
		err = os.Rename(part, dir)
	}
	if err != nil {
		return 0, errors.Join(err, os.RemoveAll(part))
	}
	return len(truth.Frames), nil
}
