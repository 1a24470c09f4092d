package main

import (
	"strings"

	"github.com/spf13/cobra"

	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/report"
	"leadmark/cmd/leadmark/report/figure"
)

func (a *app) rigHistory() *cobra.Command {
	var asJSON bool
	var page string
	c := &cobra.Command{
		Use: "history NAME", Short: "List a rig's accepted calibrations and chart them",
		Long: "Lists the calibrations and draws a control chart (ISO 7870-2) for each set-up: the lag with its\n" +
			"95 % interval (|--o--|) between the control limits (:) and the centre (.).",
		Example: "  leadmark rig new greenhouse\n  leadmark rig history greenhouse --html greenhouse.html",
		Args:    oneArg("the name of a rig"),
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.Flags().StringVar(&page, "html", "", "write the charts as a page into this file")
	c.RunE = a.begin(func(_ *cobra.Command, args []string) error {
		store, err := a.store()
		if err != nil {
			return err
		}
		h, err := store.History(args[0])
		if err != nil {
			return err
		}
		if page != "" {
			if err := report.WriteHistory(page, args[0], h,
				report.Options{Made: a.now(), Version: version()}); err != nil {
				return err
			}
		}
		if asJSON {
			return a.printJSON(rig.NewHistoryDocument(args[0], h))
		}
		return a.tellHistory(args[0], h, page)
	})
	return c
}

func (a *app) tellHistory(name string, h rig.History, page string) error {
	p := &printer{w: a.stdout}
	if len(h.Entries) == 0 {
		p.linef("%s has not been calibrated yet.", name)
	} else {
		var all []rig.Numbered
		for i, e := range h.Entries {
			all = append(all, rig.Numbered{Number: i + 1, Entry: e})
		}
		p.linef("%s", historyTable(all))
		for _, r := range h.Restores {
			p.linef("%s", hanging("", r.String()))
		}
	}
	for _, c := range h.Charts() {
		p.linef("\n%s", hanging("", "Set-up: "+c.Setup.String()))
		p.linef("%s", strings.TrimRight(figure.ChartText(c), "\n"))
		if len(c.Points) > 0 {
			p.linef("%s", hanging("", c.Text+"."))
		}
	}
	tellDamage(p, h)
	if page != "" {
		p.linef("\nPage: %s", page)
	}
	return p.err
}
