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
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/output"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/vision/synth/runs"
)

func demoCommand(env *command.Env, drawRun func(seed int64) runs.RunSpec,
	drawBees func(seed uint64) bees) *cobra.Command {
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
		Args: command.OneArg("a folder to make"),
	}
	c.Flags().Int64Var(&seed, "seed", 2, "another number draws another run or shoot")
	c.Flags().BoolVar(&shoot, "shoot", false, "draw bees leaving the tube, for leadmark check")
	c.RunE = env.Begin(func(c *cobra.Command, args []string) error {
		if shoot {
			return demo(c.Context(), env, args[0], "check",
				func(dir string) (int, error) { return writeBees(dir, drawBees(uint64(seed))) })
		}
		return demo(c.Context(), env, args[0], "calibrate", func(dir string) (int, error) {
			truth, err := runs.WriteRun(dir, drawRun(seed))
			return len(truth.Frames), err
		})
	})
	return c
}

// demo draws into a folder that is new or empty, and names the command that takes it on.
func demo(ctx context.Context, env *command.Env, dir, next string,
	draw func(dir string) (frames int, err error)) error {
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
	frames, err := drawDemo(ctx, env, dir, draw)
	if err != nil {
		return err
	}
	p := terminal.NewPrinter(env.Stdout)
	p.Linef("Drew %d invented frames in %s; the truth is in truth.json.", frames, dir)
	p.Linef("Now: leadmark %s %s", next, dir)
	return p.Err()
}

// drawDemo draws in a folder of its own, which takes its name when all is there: a drawing that was
// broken off leaves nothing behind.
func drawDemo(ctx context.Context, env *command.Env, dir string,
	draw func(dir string) (int, error)) (frames int, err error) {
	env.Written.Around(dir)
	if err := output.CheckParent(dir); err != nil {
		return 0, err
	}
	err = store.Folder(dir, func(part string) error {
		env.Written.Unfinished(part)
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
			env.Written.Begin(dir)
			return errors.Join(o.err, ctx.Err())
		case <-ctx.Done():
			return ctx.Err()
		}
	})
	n := 0
	if err == nil {
		n = 1
	}
	env.Written.Done(output.Kind{One: dir}, n)
	return frames, err
}
