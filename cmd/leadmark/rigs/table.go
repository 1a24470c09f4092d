package rigs

import (
	"fmt"
	"math"
	"strconv"
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
			lag = supported(e.Lag.ValueMS, e.Lag.UMS)
			if i := e.Lag.Interval95; i != nil {
				interval = supported(i[0], e.Lag.UMS) + " to " + supported(i[1], e.Lag.UMS)
			}
		}
		if e.Spread != nil {
			spread = supported(e.Spread.ValueMS, e.Spread.Estimate().U*1e3)
		}
		t.AppendRow(table.Row{e.Number, e.Accepted.Format(time.DateTime), lag, interval, spread, e.Note})
	}
	return t.Render()
}

// supported shows a value with the digits that its uncertainty supports, or as it is where none is
// stated.
func supported(v, u float64) string {
	if !(u > 0) || math.IsInf(u, 0) {
		return fmt.Sprint(v)
	}
	return strconv.FormatFloat(v, 'f', max(unit.Places(u), 0), 64)
}

func printDamage(p *terminal.Printer, h rig.History) {
	for _, d := range h.Damaged {
		p.Linef("warning: line %d of calibrations.jsonl cannot be read and is passed over: %s", d.Line, d.What)
	}
}
