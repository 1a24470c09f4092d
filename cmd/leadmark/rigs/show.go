package rigs

import (
	"fmt"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/spf13/cobra"

	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/terminal"
)

func showCommand(env *command.Env) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{Use: "show NAME", Short: "Show a rig's description and the calibration in force",
		Example: "  leadmark rig new greenhouse\n  leadmark rig show greenhouse",
		Args:    command.OneArg("the name of a rig")}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.RunE = env.Begin(func(_ *cobra.Command, args []string) error {
		store, err := env.Store()
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
			return terminal.JSON(env.Stdout, rig.NewShownDocument(profile, history, env.Now()))
		}
		return printRig(env, profile, history)
	})
	return c
}

func printRig(env *command.Env, profile rig.Profile, h rig.History) error {
	p := terminal.NewPrinter(env.Stdout)
	p.Linef("%s, in %s\n", profile.Name, profile.Dir)
	t := terminal.Table()
	for _, r := range profile.Rows() {
		t.AppendRow(table.Row{r[0], r[1]})
	}
	if t.Length() == 0 {
		p.Linef("rig.toml is not filled in yet.")
	} else {
		p.Linef("%s", t.Render())
	}
	f, ok := h.InForce()
	if !ok {
		p.Linef("\nNot calibrated yet: leadmark calibrate RUN --rig %s --accept", profile.Name)
		printDamage(p, h)
		return p.Err()
	}
	p.Linef("\nCalibrations: %d, the last of %s. In force: number %d, %s.", len(h.Entries),
		h.Entries[len(h.Entries)-1].Accepted.Format("2 January 2006 15:04"), f.Number, f.Why())
	p.Linef("%s", historyTable([]rig.Numbered{{Number: f.Number, Entry: f.Entry}}))
	p.Linef("%s", terminal.Hanging("", "Set-up: "+f.Entry.On().String()))
	if days, due := profile.Age(f.Entry, env.Now()); due {
		p.Linef("It is %.0f days old, more than the %g days of recalibrate_days: calibrate anew.", days,
			profile.Limits.RecalibrateDays)
	}
	printOtherSetups(p, h, f)
	printDamage(p, h)
	return p.Err()
}

// printOtherSetups names what holds for the rig's other set-ups.
func printOtherSetups(p *terminal.Printer, h rig.History, now rig.InForce) {
	for _, c := range h.Charts() {
		f, ok := h.InForceOn(c.Setup)
		if ok && !c.Setup.Like(now.Entry.On()) {
			line := fmt.Sprintf("For another set-up: number %d, %s; %s", f.Number, f.Why(), c.Setup)
			p.Linef("%s", terminal.Hanging("", line))
		}
	}
}
