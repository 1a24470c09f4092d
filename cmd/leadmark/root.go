package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"leadmark/calib/store"
	"leadmark/cmd/leadmark/calibrate"
	"leadmark/cmd/leadmark/check"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/manual"
	"leadmark/cmd/leadmark/planning"
	"leadmark/cmd/leadmark/rigs"
)

// run runs the command that args name.
func (a *app) run(ctx context.Context, args []string) error {
	ctx = store.WithPatience(ctx, command.Patience(a.Stderr))
	root := a.root()
	root.SetArgs(args)
	root.SetOut(a.Stdout)
	root.SetErr(a.Stderr)
	c, err := root.ExecuteContextC(ctx)
	switch {
	case err != nil && !a.Begun:
		return usageError{fmt.Errorf("%s\nhint: %s", manual.Plain(err), manual.Hint(c, err))}
	case errors.Is(err, context.Canceled):
		return a.Written.Stopped(err)
	}
	return err
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "leadmark",
		Short: "Calibrate beam-triggered flash rigs from photographs of a ruler",
		Long: "Leadmark finds how long after a beam is broken a rig's flash fires, and how much that varies,\n" +
			"from photographs of a ruler that was let fall or pushed through the beam.\n\n" +
			"Exit status: " + manual.ExitStatus + ".",
		Example:       "  leadmark demo night1\n  leadmark calibrate night1",
		Version:       a.Version,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.NoArgs,
		RunE:          func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetVersionTemplate("leadmark {{.Version}}\n" + builtWith() + "\n")
	root.PersistentFlags().StringVar(&a.Rigs, "rigs", "",
		"folder of the rigs' profiles (else $LEADMARK_RIGS, else leadmark/rigs in the user's configuration folder)")
	env := &a.Env
	root.AddCommand(calibrate.Command(env), readCommand(env), rigs.Command(env), planning.Command(env),
		check.Command(env), deskCommand(env), rulerCommand(env), demoCommand(env, a.demoRun, a.demoBees),
		versionCommand(env), licencesCommand(env), manpagesCommand(env))
	root.SetHelpCommand(manual.Help())
	root.CompletionOptions.HiddenDefaultCmd = true
	return root
}
