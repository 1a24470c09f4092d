package main

import (
	"fmt"
	"time"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/spf13/cobra"

	"leadmark/calib/record"
	"leadmark/calib/rig"
	"leadmark/fit/unit"
)

func (a *app) rigCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "rig",
		Short: "Make, show, compare and restore rig profiles",
		Long: "A rig's profile is a folder: rig.toml, its description, which you write, and calibrations.jsonl,\n" +
			"to which each accepted calibration adds one line. Calibrations of different set-ups (body, focal\n" +
			"length, shutter, sync, exposure time, f-number) are kept apart.",
		Example: "  leadmark rig new greenhouse\n  leadmark rig show greenhouse",
		Args:    cobra.NoArgs,
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(a.rigNew(), a.rigShow(), a.rigHistory(), a.rigCompare(), a.rigRestore(), a.rigList())
	return c
}

func (a *app) rigNew() *cobra.Command {
	c := &cobra.Command{Use: "new NAME", Short: "Make a profile with a rig.toml to fill in",
		Example: "  leadmark rig new greenhouse", Args: oneArg("a name for the rig")}
	c.RunE = a.begin(func(_ *cobra.Command, args []string) error {
		store, err := a.store()
		if err != nil {
			return err
		}
		var path string
		err = a.written.file("the profile of "+args[0], func() (err error) {
			path, err = store.New(args[0])
			return err
		})
		if err != nil {
			return err
		}
		p := &printer{w: a.stdout}
		p.linef("Made the profile of %s. Fill in its description: %s", args[0], path)
		return p.err
	})
	return c
}

func (a *app) rigList() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{Use: "list", Short: "Name the profiles there are", Example: "  leadmark rig list",
		Args: cobra.NoArgs}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.RunE = a.begin(func(*cobra.Command, []string) error {
		store, err := a.store()
		if err != nil {
			return err
		}
		names, err := store.List()
		if err != nil {
			return err
		}
		p := &printer{w: a.stdout}
		if asJSON {
			return a.printJSON(rig.NewListDocument(store.Root, names))
		}
		if len(names) == 0 {
			p.linef("There are no profiles in %s yet; leadmark rig new NAME makes one.", store.Root)
		}
		for _, n := range names {
			p.linef("%s", n)
		}
		return p.err
	})
	return c
}

func (a *app) rigShow() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{Use: "show NAME", Short: "Show a rig's description and the calibration in force",
		Example: "  leadmark rig new greenhouse\n  leadmark rig show greenhouse", Args: oneArg("the name of a rig")}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.RunE = a.begin(func(_ *cobra.Command, args []string) error {
		store, err := a.store()
		if err != nil {
			return err
		}
		profile, err := store.Load(args[0])
		if err != nil {
			return err
		}
		history, err := store.History(args[0])
		if err != nil {
			return err
		}
		if asJSON {
			return a.printJSON(rig.NewShownDocument(profile, history, a.now()))
		}
		return a.tellRig(profile, history)
	})
	return c
}

func (a *app) tellRig(profile rig.Profile, h rig.History) error {
	p := &printer{w: a.stdout}
	p.linef("%s, in %s\n", profile.Name, profile.Dir)
	t := plainTable()
	for _, r := range profile.Rows() {
		t.AppendRow(table.Row{r[0], r[1]})
	}
	if t.Length() == 0 {
		p.linef("rig.toml is not filled in yet.")
	} else {
		p.linef("%s", t.Render())
	}
	f, ok := h.InForce()
	if !ok {
		p.linef("\nNot calibrated yet: leadmark calibrate RUN --rig %s --accept", profile.Name)
		tellDamage(p, h)
		return p.err
	}
	p.linef("\nCalibrations: %d, the last of %s. In force: number %d, %s.", len(h.Entries),
		h.Entries[len(h.Entries)-1].Accepted.Format("2 January 2006 15:04"), f.Number, f.Why())
	p.linef("%s", historyTable([]rig.Numbered{{Number: f.Number, Entry: f.Entry}}))
	p.linef("%s", hanging("", "Set-up: "+f.Entry.On().String()))
	if days, due := profile.Age(f.Entry, a.now()); due {
		p.linef("It is %.0f days old, more than the %g days of recalibrate_days: calibrate anew.", days,
			profile.Limits.RecalibrateDays)
	}
	tellOtherSetups(p, h, f)
	tellDamage(p, h)
	return p.err
}

// tellOtherSetups names what holds for the rig's other set-ups.
func tellOtherSetups(p *printer, h rig.History, now rig.InForce) {
	for _, c := range h.Charts() {
		f, ok := h.InForceOn(c.Setup)
		if ok && !c.Setup.Like(now.Entry.On()) {
			p.linef("%s", hanging("", fmt.Sprintf("For another set-up: number %d, %s; %s", f.Number, f.Why(), c.Setup)))
		}
	}
}

func historyTable(entries []rig.Numbered) string {
	t := plainTable()
	t.AppendHeader(table.Row{"no.", "accepted", "lag, ms", "95 % interval", "spread, ms", "note"})
	for _, e := range entries {
		lag, interval, spread := "not told", "", "not told"
		if e.Lag != nil {
			lag = unit.Quantity{Value: e.Lag.ValueMS, U: e.Lag.UMS}.At()
			if i := e.Lag.Interval95; i != nil {
				interval = unit.Quantity{Value: i[0], U: e.Lag.UMS}.At() + " to " + unit.Quantity{Value: i[1], U: e.Lag.UMS}.At()
			}
		}
		if e.Spread != nil {
			spread = unit.Quantity{Value: e.Spread.ValueMS, U: e.Spread.Estimate().U * 1e3}.At()
		}
		t.AppendRow(table.Row{e.Number, e.Accepted.Format(time.DateTime), lag, interval, spread, e.Note})
	}
	return t.Render()
}

func tellDamage(p *printer, h rig.History) {
	for _, d := range h.Damaged {
		p.linef("warning: line %d of calibrations.jsonl cannot be read and is passed over: %s", d.Line, d.What)
	}
}

func (a *app) printJSON(v any) error {
	text, err := record.JSON("what was asked for", v)
	if err == nil {
		_, err = a.stdout.Write(text)
	}
	return err
}

// printLine prints a document as one line.
func (a *app) printLine(v any) error {
	text, err := record.Line("what was asked for", v)
	if err == nil {
		_, err = a.stdout.Write(text)
	}
	return err
}
