package rigs

import (
	"context"
	"errors"

	"github.com/spf13/cobra"

	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
)

func restoreCommand(env *command.Env) *cobra.Command {
	var note string
	var asJSON bool
	c := &cobra.Command{
		Use: "restore NAME N", Short: "Put an earlier calibration back in force",
		Long: "Adds a line to the profile that puts calibration N, a number or a time as rig history lists " +
			"them, back\n" +
			"in force. Nothing there is rewritten; the next accepted calibration takes over again.",
		Example: "  leadmark rig new greenhouse\n  leadmark demo night1\n  leadmark calibrate night1 " +
			"--accept\n  leadmark demo night2 --seed 3\n  leadmark calibrate night2 --accept\n  leadmark rig " +
			"restore greenhouse 1 --note 'back to the old battery'",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return errors.New("give the name of a rig and the number of one of its calibrations")
			}
			return nil
		},
	}
	c.Flags().StringVar(&note, "note", "", "why")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON, as rig show does")
	c.RunE = env.Begin(func(c *cobra.Command, args []string) error {
		if asJSON {
			return restoreJSON(c.Context(), env, args[0], args[1], note)
		}
		return restore(c.Context(), env, args[0], args[1], note, true)
	})
	return c
}

func restore(ctx context.Context, env *command.Env, name, which, note string, tell bool) error {
	store, err := env.Store()
	if err != nil {
		return err
	}
	h, err := store.History(name)
	if err != nil {
		return err
	}
	n, err := h.Find(which)
	if err != nil {
		return err
	}
	var added rig.Appended
	err = env.Written.File("the profile of "+name, func() (err error) {
		added, err = store.Restore(ctx, name, n.Number, env.Now(), note)
		return err
	})
	if err != nil || !tell {
		return err
	}
	p := terminal.NewPrinter(env.Stdout)
	p.Linef("Calibration %d of %s, accepted on %s, is in force again.", n.Number, name,
		n.Accepted.Format("2 January 2006 15:04"))
	if added.Torn != "" {
		p.Linef("note: the last line there had been left unfinished, as by a crash; it was moved to %s", added.Torn)
	}
	return p.Err()
}

func restoreJSON(ctx context.Context, env *command.Env, name, which, note string) error {
	if err := restore(ctx, env, name, which, note, false); err != nil {
		return err
	}
	store, err := env.Store()
	if err != nil {
		return err
	}
	profile, err := store.Load(name)
	if err != nil {
		return err
	}
	h, err := store.History(name)
	if err != nil {
		return err
	}
	return terminal.JSON(env.Stdout, rig.NewShownDocument(profile, h, env.Now()))
}
