package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"os"
	"sync/atomic"
	"time"

	"github.com/spf13/cobra"

	"leadmark/calib/follow"
	"leadmark/calib/read"
	"leadmark/calib/rig"
	"leadmark/calib/store"
	"leadmark/vision"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/synth/runs"
)

// app is what the commands share: where they print, and the world outside, so that tests can
// put their own in its place.
type app struct {
	stdout, stderr io.Writer
	getenv         func(string) string
	now            func() time.Time
	look           read.LookFunc
	shift          read.ShiftFunc // how far the scene moved between two frames
	following      func(ctx context.Context, dir string, o follow.Options) error
	symbol         func(ctx context.Context, f frame.Frame) (ruler.Symbol, error)
	demoRun        func(seed int64) runs.RunSpec
	demoBees       func(seed uint64) bees
	picture        func(ctx context.Context, f frame.Frame, maxSide int) (image.Image, error)

	rigs string // --rigs
	ran  bool   // a command was understood and begun

	written  ledger
	grace    func() <-chan time.Time // how long a command that was told to stop is waited for
	lastStop context.Context         // ends when a command that finishes must stop all the same
	finishes atomic.Bool             // the first signal is the command's own end, and it has something to finish
	endless  atomic.Bool             // it runs until it is told to stop, which is no failure
}

func newApp(stdout, stderr io.Writer) *app {
	looker := vision.NewLooker(native.Library{})
	return &app{
		stdout: &escapingWriter{w: stdout}, stderr: &escapingWriter{w: stderr}, getenv: os.Getenv, now: time.Now,
		look: looker.Look, shift: vision.Shift, following: follow.Follow, symbol: looker.ReadSlate,
		picture: loadPicture,
		demoRun: runs.DemoRun, demoBees: demoBees,
		grace: func() <-chan time.Time { return time.After(graceTime) }, lastStop: context.Background(),
	}
}

func (a *app) run(ctx context.Context, args []string) error {
	ctx = store.WithPatience(ctx, a.patience())
	root := a.root()
	root.SetArgs(args)
	root.SetOut(a.stdout)
	root.SetErr(a.stderr)
	c, err := root.ExecuteContextC(ctx)
	switch {
	case err != nil && !a.ran:
		return usageError{fmt.Errorf("%s\nhint: %s", plainUsage(err), usageHint(c, err))}
	case errors.Is(err, context.Canceled):
		return a.written.stopped(err)
	}
	return err
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "leadmark",
		Short: "Calibrate beam-triggered flash rigs from photographs of a ruler",
		Long: "Leadmark finds how long after a beam is broken a rig's flash fires, and how much that varies,\n" +
			"from photographs of a ruler that was let fall or pushed through the beam.\n\n" +
			"Exit status: " + exitText + ".",
		Example:       "  leadmark demo night1\n  leadmark calibrate night1",
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.NoArgs,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetVersionTemplate("leadmark {{.Version}}\n" + builtWith() + "\n")
	root.PersistentFlags().StringVar(&a.rigs, "rigs", "",
		"folder of the rigs' profiles (else $LEADMARK_RIGS, else leadmark/rigs in the user's configuration folder)")
	root.AddCommand(a.calibrateCommand(), a.readCommand(), a.rigCommand(), a.planCommand(), a.checkCommand(),
		a.deskCommand(), a.rulerCommand(), a.demoCommand(), a.versionCommand(), a.licencesCommand(),
		a.manpagesCommand())
	root.SetHelpCommand(helpCommand())
	root.CompletionOptions.HiddenDefaultCmd = true
	return root
}

// begin marks a command as understood: what fails from here on is not a fault of usage.
func (a *app) begin(do func(c *cobra.Command, args []string) error) func(*cobra.Command, []string) error {
	return func(c *cobra.Command, args []string) error {
		a.ran = true
		return do(c, args)
	}
}

func (a *app) store() (rig.Store, error) { return rig.Open(a.rigs, a.getenv) }
