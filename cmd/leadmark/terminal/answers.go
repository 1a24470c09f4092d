package terminal

import (
	"leadmark/cmd/leadmark/report/phrase"

	"github.com/jedib0t/go-pretty/v6/table"
)

// Widths of an answer's columns, in characters.
const (
	valueWidth = 34
	noteWidth  = 60
)

// Answers sets out what was asked, a line each: its name, its value and what is to be known of it.
func Answers(lines []phrase.Line) string {
	t := Table()
	t.SetColumnConfigs([]table.ColumnConfig{
		{Number: 2, WidthMax: valueWidth, WidthMaxEnforcer: Wrap},
		{Number: 3, WidthMax: noteWidth, WidthMaxEnforcer: Wrap},
	})
	for _, l := range lines {
		value := l.Value
		if !l.Known() {
			value = "not told"
		}
		t.AppendRow(table.Row{l.Label, value, l.Note})
	}
	return t.Render()
}
