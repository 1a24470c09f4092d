package rigs

import (
	"time"

	"github.com/jedib0t/go-pretty/v6/table"

	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/terminal"
	"leadmark/fit/unit"
)

func historyTable(entries []rig.Numbered) string {
	t := terminal.Table()
	t.AppendHeader(table.Row{"no.", "accepted", "lag, ms", "95 % interval", "spread, ms", "note"})
	for _, e := range entries {
		lag, interval, spread := "not told", "", "not told"
		if e.Lag != nil {
			lag = unit.Quantity{Value: e.Lag.ValueMS, U: e.Lag.UMS}.At()
			if i := e.Lag.Interval95; i != nil {
				interval = unit.Quantity{Value: i[0], U: e.Lag.UMS}.At() + " to " + unit.Quantity{Value: i[1],
					U: e.Lag.UMS}.At()
			}
		}
		if e.Spread != nil {
			spread = unit.Quantity{Value: e.Spread.ValueMS, U: e.Spread.Estimate().U * 1e3}.At()
		}
		t.AppendRow(table.Row{e.Number, e.Accepted.Format(time.DateTime), lag, interval, spread, e.Note})
	}
	return t.Render()
}

func printDamage(p *terminal.Printer, h rig.History) {
	for _, d := range h.Damaged {
		p.Linef("warning: line %d of calibrations.jsonl cannot be read and is passed over: %s", d.Line, d.What)
	}
}
