package terminal

import (
	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// Table has no lines and two blanks between its columns.
func Table() table.Writer {
	t := table.NewWriter()
	style := table.StyleDefault
	style.Options = table.OptionsNoBordersAndSeparators
	style.Box.PaddingLeft, style.Box.PaddingRight = "", "  "
	style.Format.Header = text.FormatDefault
	t.SetStyle(style)
	t.SuppressTrailingSpaces()
	return shownTable{t}
}

// shownTable lays its columns out for what will be seen: the library takes escape sequences for
// colours, without width.
type shownTable struct{ table.Writer }

func (t shownTable) AppendRow(row table.Row, config ...table.RowConfig) {
	seen := make(table.Row, len(row))
	for i, cell := range row {
		if s, ok := cell.(string); ok {
			cell = Escaped(s)
		}
		seen[i] = cell
	}
	t.Writer.AppendRow(seen, config...)
}

func (t shownTable) AppendRows(rows []table.Row, config ...table.RowConfig) {
	for _, row := range rows {
		t.AppendRow(row, config...)
	}
}
