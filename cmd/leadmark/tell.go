package main

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/fit/design"
	"leadmark/vision/ruler"
)

// finished is a calibration that has a result and a report.
type finished struct {
	result calib.Result
	page   string        // path of report.html
	added  *rig.Appended // nil where it was not accepted

	against []string // how it compares with the calibration before it, a line each
}

// printer keeps the first error of many small writes.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) linef(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

// tell prints the result: JSON for machines, else a table and what to do next for people.
func (a *app) tell(d finished, json bool) error {
	if json {
		b, err := record.Encode(d.result)
		if err != nil {
			return err
		}
		if _, err := a.stdout.Write(b); err != nil {
			return err
		}
		p := &printer{w: a.stderr}
		tellAdded(p, d)
		return p.err
	}
	p := &printer{w: a.stdout}
	p.linef("%s\n", summary.Head(d.result))
	p.linef("%s", answerTable(summary.Answer(d.result)))
	tellFrames(p, d.result)
	tellWarnings(p, d.result.Warnings)
	tellAdvice(p, d.result)
	p.linef("\nReport: %s", d.page)
	tellAdded(p, d)
	return p.err
}

const (
	valueWidth = 34
	noteWidth  = 60
)

// plainTable has no lines and two blanks between its columns.
func plainTable() table.Writer {
	t := table.NewWriter()
	style := table.StyleDefault
	style.Options = table.OptionsNoBordersAndSeparators
	style.Box.PaddingLeft, style.Box.PaddingRight = "", "  "
	style.Format.Header = text.FormatDefault
	t.SetStyle(style)
	t.SuppressTrailingSpaces()
	return escapingTable{t}
}

func answerTable(lines []phrase.Line) string {
	t := plainTable()
	t.SetColumnConfigs([]table.ColumnConfig{
		{Number: 2, WidthMax: valueWidth, WidthMaxEnforcer: wrap},
		{Number: 3, WidthMax: noteWidth, WidthMaxEnforcer: wrap},
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

// tellFrames says why frames were not read, one line a reason.
func tellFrames(p *printer, r calib.Result) {
	var order []string
	names := map[string][]string{}
	for _, f := range r.Frames {
		if f.Status == ruler.StatusRead {
			continue
		}
		why := strings.ReplaceAll(string(f.Status), "_", " ") + ", " + f.Reason.String()
		if names[why] == nil {
			order = append(order, why)
		}
		names[why] = append(names[why], f.Name)
	}
	if len(order) == 0 {
		return
	}
	p.linef("\nNot read:")
	for _, why := range order {
		p.linef("%s", hanging("  ", strings.Join(names[why], ", ")+": "+why))
	}
}

func tellWarnings(p *printer, warnings []calib.Warning) {
	if len(warnings) == 0 {
		return
	}
	p.linef("\nWarnings:")
	for _, w := range warnings {
		line := w.Code + ": " + w.Text
		if len(w.Frames) > 0 {
			line += " (" + strings.Join(w.Frames, ", ") + ")"
		}
		p.linef("%s", hanging("  ", line))
	}
}

func tellAdvice(p *printer, r calib.Result) {
	if r.Plan != nil {
		p.linef("\nTo shoot until the goal is reached:")
		tellPlan(p, *r.Plan)
		return
	}
	if len(r.Fit.Advice) == 0 {
		return
	}
	p.linef("\nTo shoot next:")
	for _, a := range r.Fit.Advice {
		p.linef("%s", hanging("  ", a.Text))
	}
}

// tellPlan says what to shoot now, a line a batch, and the whole in words.
func tellPlan(p *printer, s design.Schedule) {
	for _, b := range s.Stage {
		p.linef("%s", hanging("  ", "now: "+b.Text))
	}
	p.linef("%s", hanging("  ", sentence(s.Text)))
}

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + strings.TrimSuffix(s[n:], ".") + "."
}

func tellAdded(p *printer, d finished) {
	if d.added == nil {
		return
	}
	p.linef("Added to the profile of %s, its calibration number %d: %s", d.result.Rig, d.added.Before+1, d.added.Path)
	if d.added.Again {
		p.linef("note: a calibration from this very run was there already")
	}
	if d.added.Torn != "" {
		p.linef("note: the last line there had been left unfinished, as by a crash; it was moved to %s", d.added.Torn)
	}
	for _, line := range d.against {
		p.linef("%s", hanging("", line))
	}
}

// hanging wraps a paragraph and indents its further lines.
func hanging(indent, line string) string {
	const width = 96
	parts := strings.Split(wrap(line, width), "\n")
	for i := range parts {
		parts[i] = indent + strings.TrimRight(parts[i], " ")
		if i > 0 {
			parts[i] = "  " + parts[i]
		}
	}
	return strings.Join(parts, "\n")
}
