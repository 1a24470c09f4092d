package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"leadmark/calib/input"
	"leadmark/calib/store"
	"leadmark/vision/synth/runs"
)

func (a *app) demoCommand() *cobra.Command {
	var seed int64
	var shoot bool
	c := &cobra.Command{
		Use:   "demo DIR",
		Short: "Draw an invented run, or an invented shoot, to try everything on",
		Long: "Draws the frames of an invented run, a ruler let fall through the beam before a bee's nest tube\n" +
			"in a greenhouse, with its run.toml and shots.csv, and the truth in truth.json beside them.\n" +
			"With --shoot it draws bees that leave the tube, taken with the same rig, with shoot.toml and bee.toml.",
		Example: "  leadmark demo night1\n  leadmark calibrate night1\n\n" +
			"  leadmark demo bees1 --shoot\n  leadmark check bees1 --lag-ms 38.4 --spread-ms 0.7",
		Args: oneArg("a folder to make"),
	}
	c.Flags().Int64Var(&seed, "seed", 2, "another number draws another run or shoot")
	c.Flags().BoolVar(&shoot, "shoot", false, "draw bees leaving the tube, for leadmark check")
	c.RunE = a.begin(func(c *cobra.Command, args []string) error {
		if shoot {
			return a.demo(c.Context(), args[0], "check",
				func(dir string) (int, error) { return writeBees(dir, a.demoBees(uint64(seed))) })
		}
		return a.demo(c.Context(), args[0], "calibrate", func(dir string) (int, error) {
			truth, err := runs.WriteRun(dir, a.demoRun(seed))
			return len(truth.Frames), err
		})
	})
	return c
}

// demo draws into a folder that is new or empty, and names the command that takes it on.
func (a *app) demo(ctx context.Context, dir, next string, draw func(dir string) (frames int, err error)) error {
	dir = filepath.Clean(dir) // a slash at the end would name a place inside
	entries, err := os.ReadDir(dir)
	switch {
	case dir == "." || dir == "..":
		return &input.Error{File: dir, What: "cannot take the pictures: the folder is made by the program",
			Hint: "name a new folder"}
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return &input.Error{File: dir, What: "cannot take the pictures: it is not a folder that can be " +
			"looked into", Hint: "name a new folder"}
	case len(entries) > 0:
		return &input.Error{File: dir, What: "is there already and is not empty; nothing was written",
			Hint: "name a new folder"}
	}
	frames, err := a.drawDemo(ctx, dir, draw)
	if err != nil {
		return err
	}
	p := &printer{w: a.stdout}
	p.linef("Drew %d invented frames in %s; the truth is in truth.json.", frames, dir)
	p.linef("Now: leadmark %s %s", next, dir)
	return p.err
}

// drawDemo draws in a folder of its own, which takes its name when all is there: a drawing that was
// broken off leaves nothing behind.
func (a *app) drawDemo(ctx context.Context, dir string, draw func(dir string) (int, error)) (frames int, err error) {
	a.written.around(dir)
	if err := checkParent(dir); err != nil {
		return 0, err
	}
	err = store.Folder(dir, func(part string) error {
		a.written.unfinished(part)
		type outcome struct {
			frames int
			err    error
		}
		drawn := make(chan outcome, 1)
		go func() { // the drawing cannot be stopped; when it must, the program ends without it
			n, err := draw(part)
			drawn <- outcome{n, err}
		}()
		select {
		case o := <-drawn:
			frames = o.frames
			a.written.begin(dir)
			return errors.Join(o.err, ctx.Err())
		case <-ctx.Done():
			return ctx.Err()
		}
	})
	n := 0
	if err == nil {
		n = 1
	}
	a.written.done(kind{one: dir}, n)
	return frames, err
}
