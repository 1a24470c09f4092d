package rigs

import (
	"strings"

	"github.com/spf13/cobra"

	"leadmark/calib/rig"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/cmd/leadmark/report"
	"leadmark/cmd/leadmark/report/figure"
	"leadmark/cmd/leadmark/terminal"
)

func historyCommand(env *command.Env) *cobra.Command {
	var asJSON bool
	var page string
	c := &cobra.Command{
		Use: "history NAME", Short: "List a rig's accepted calibrations and chart them",
		Long: "Lists the calibrations and draws a control chart (ISO 7870-2) for each set-up: the lag with its\n" +
			"95 % interval (|--o--|) between the control limits (:) and the centre (.).",
		Example: "  leadmark rig new greenhouse\n  leadmark rig history greenhouse --html greenhouse.html",
		Args:    command.OneArg("the name of a rig"),
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.Flags().StringVar(&page, "html", "", "write the charts as a page into this file")
	c.RunE = env.Begin(func(_ *cobra.Command, args []string) error {
		store, err := env.Store()
		if err != nil {
			return err
		}
		h, err := store.History(args[0])
		if err != nil {
			return err
		}
		if page != "" {
			if err := report.WriteHistory(page, args[0], h,
				report.Options{Made: env.Now(), Version: env.Version}); err != nil {
				return err
			}
		}
		if asJSON {
			return terminal.JSON(env.Stdout, rig.NewHistoryDocument(args[0], h))
		}
		return printHistory(env, args[0], h, page)
	})
	return c
}

func printHistory(env *command.Env, name string, h rig.History, page string) error {
	p := terminal.NewPrinter(env.Stdout)
	if len(h.Entries) == 0 {
		p.Linef("%s has not been calibrated yet.", name)
	} else {
		var all []rig.Numbered
		for i, e := range h.Entries {
			all = append(all, rig.Numbered{Number: i + 1, Entry: e})
		}
		p.Linef("%s", historyTable(all))
		for _, r := range h.Restores {
			p.Linef("%s", terminal.Hanging("", r.String()))
		}
	}
	for _, c := range h.Charts() {
		p.Linef("\n%s", terminal.Hanging("", "Set-up: "+c.Setup.String()))
		p.Linef("%s", strings.TrimRight(figure.ChartText(c), "\n"))
		if len(c.Points) > 0 {
			p.Linef("%s", terminal.Hanging("", words.Sentence(c.Note)+"."))
		}
	}
	printDamage(p, h)
	if page != "" {
		p.Linef("\nPage: %s", page)
	}
	return p.Err()
}
