package main

import (
	"context"
	"errors"

	"github.com/spf13/cobra"

	"leadmark/calib/rig"
)

func (a *app) rigRestore() *cobra.Command {
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
	c.RunE = a.begin(func(c *cobra.Command, args []string) error {
		if asJSON {
			return a.restoreJSON(c.Context(), args[0], args[1], note)
		}
		return a.restore(c.Context(), args[0], args[1], note, true)
	})
	return c
}

func (a *app) restore(ctx context.Context, name, which, note string, tell bool) error {
	store, err := a.store()
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
	err = a.written.file("the profile of "+name, func() (err error) {
		added, err = store.Restore(ctx, name, n.Number, a.now(), note)
		return err
	})
	if err != nil || !tell {
		return err
	}
	p := &printer{w: a.stdout}
	p.linef("Calibration %d of %s, accepted on %s, is in force again.", n.Number, name,
		n.Accepted.Format("2 January 2006 15:04"))
	if added.Torn != "" {
		p.linef("note: the last line there had been left unfinished, as by a crash; it was moved to %s", added.Torn)
	}
	return p.err
}

func (a *app) restoreJSON(ctx context.Context, name, which, note string) error {
	if err := a.restore(ctx, name, which, note, false); err != nil {
		return err
	}
	store, err := a.store()
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
	return a.printJSON(rig.NewShownDocument(profile, h, a.now()))
}
