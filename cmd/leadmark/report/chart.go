package report

import (
	"fmt"
	"math"
	"strings"
	"time"

	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit"
)

const chartColumns = 52 // characters of the drawn part of a chart for the terminal

// ChartText draws a control chart for the terminal: a line for each calibration, the oldest first,
// with its lag and 95 % interval on a common scale between the control limits.
func ChartText(c rig.Chart) string {
	var b strings.Builder
	if len(c.Points) == 0 {
		return c.Text + "\n"
	}
	a := chartAxis(c)
	a.P0, a.P1 = 0, chartColumns-1
	width := 0
	for _, p := range c.Points {
		width = max(width, len([]rune(lagText(p.Lag))))
	}
	fmt.Fprintf(&b, "%4s  %-10s  %-*s  %s\n", "no.", "accepted", width, "lag", chartHead(c, a))
	for _, p := range c.Points {
		lag := lagText(p.Lag)
		line := fmt.Sprintf("%4d  %s  %s  %s", p.Number, p.Accepted.Format(time.DateOnly),
			lag+strings.Repeat(" ", width-len([]rune(lag))), chartRow(c, a, p))
		var notes []string
		if p.InForce {
			notes = append(notes, "in force")
		}
		if p.Out != "" {
			notes = append(notes, "OUT: "+p.Out)
		}
		b.WriteString(strings.TrimRight(line+"  "+strings.Join(notes, ", "), " ") + "\n")
	}
	b.WriteString(strings.TrimRight(strings.Repeat(" ", 20+width)+chartFoot(c, a), " ") + "\n")
	return b.String()
}

func lagText(e fit.Estimate) string { return phrase.MS.PlusMinus(e.Value, phrase.Half(e)) }

// chartAxis holds every interval and the limits.
func chartAxis(c rig.Chart) svg.Axis {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range c.Points {
		lo, hi = min(lo, p.Lag.Interval95.Low), max(hi, p.Lag.Interval95.High)
	}
	if k := c.Control; k != nil {
		lo, hi = min(lo, k.Lower), max(hi, k.Upper)
	}
	lo, hi = svg.Padded(lo/phrase.MS.SI, hi/phrase.MS.SI, 0.04)
	return svg.Axis{Lo: lo, Hi: hi}
}

func column(a svg.Axis, seconds float64) int {
	return int(math.Round(min(max(a.At(seconds/phrase.MS.SI), 0), chartColumns-1)))
}

// chartRow draws one interval over the limits (:) and the centre (.).
func chartRow(c rig.Chart, a svg.Axis, p rig.ChartPoint) string {
	row := []byte(strings.Repeat(" ", chartColumns))
	if k := c.Control; k != nil {
		row[column(a, k.Lower)], row[column(a, k.Centre)], row[column(a, k.Upper)] = ':', '.', ':'
	}
	lo, hi := column(a, p.Lag.Interval95.Low), column(a, p.Lag.Interval95.High)
	for i := lo; i <= hi; i++ {
		row[i] = '-'
	}
	row[lo], row[hi] = '|', '|'
	row[column(a, p.Lag.Value)] = 'o'
	if p.Out != "" {
		row[column(a, p.Lag.Value)] = '#'
	}
	return string(row)
}

func chartHead(c rig.Chart, a svg.Axis) string {
	k := c.Control
	if k == nil {
		return ""
	}
	return placed([]int{column(a, k.Lower), column(a, k.Centre), column(a, k.Upper)},
		[]string{"lower limit", "centre", "upper limit"})
}

// chartFoot writes the limits below their lines.
func chartFoot(c rig.Chart, a svg.Axis) string {
	k := c.Control
	if k == nil {
		return ""
	}
	var text []string
	for _, v := range []float64{k.Lower, k.Centre, k.Upper} {
		text = append(text, phrase.MS.At(v, k.Sigma))
	}
	return placed([]int{column(a, k.Lower), column(a, k.Centre), column(a, k.Upper)}, text)
}

// placed centres texts on columns where they do not run into each other.
func placed(at []int, texts []string) string {
	row := ""
	for i, t := range texts {
		start := max(at[i]-len(t)/2, 0)
		if i > 0 {
			start = max(start, len(row)+1)
		}
		row += strings.Repeat(" ", max(start-len(row), 0)) + t
	}
	return row
}

// historyView is the page of a rig's history.
type historyView struct {
	Rig, Made, Generator string
	Charts               []chartView
	Head                 phrase.Headline // what is in force
	Why                  string
	Damaged              []string
}

type chartView struct {
	Setup, Text string
	Alarm       bool
	Figures     []figureView
	Rows        []chartRowView
}

type chartRowView struct {
	Number                                            int
	Accepted, Lag, Interval, Spread, Range, Note, Out string
	InForce                                           bool
}

// WriteHistory writes the control charts of a rig as one page that loads nothing, in one step. A
// file that is there and was not written by this program is left alone, and WriteHistory returns
// ErrNotOurs.
func WriteHistory(path, name string, h rig.History, o Options) error {
	v := historyView{Rig: name, Generator: strings.TrimSpace("leadmark " + o.Version)}
	if !o.Made.IsZero() {
		v.Made = o.Made.Format("2 January 2006, 15:04 MST")
	}
	if f, ok := h.InForce(); ok {
		v.Head = phrase.Headline{Before: fmt.Sprintf("Calibration %d is in force", f.Number), After: "."}
		if l := f.Entry.Lag; l != nil {
			v.Head = phrase.Headline{Before: fmt.Sprintf("Calibration %d is in force: a lag of", f.Number), Value: lagText(l.Estimate()), After: ""}
		}
		v.Why = phrase.Sentence(f.Why())
	}
	for i, c := range h.Charts() {
		v.Charts = append(v.Charts, viewChart(i, c))
	}
	for _, d := range h.Damaged {
		v.Damaged = append(v.Damaged, fmt.Sprintf("Line %d of %s cannot be read and is passed over: %s.", d.Line,
			rig.HistoryName, d.What))
	}
	return replacePage(path, "history.html", v)
}

func viewChart(i int, c rig.Chart) chartView {
	v := chartView{Setup: "Set-up: " + c.Setup.String() + ".", Text: phrase.Sentence(c.Text),
		Alarm: c.Control != nil && !c.Control.InControl}
	for k, p := range c.Points {
		r := chartRowView{Number: p.Number, Accepted: p.Accepted.Format("2006-01-02 15:04"), Lag: lagText(p.Lag),
			Interval: phrase.MS.Span(p.Lag.Interval95), Note: p.Note, Out: p.Out, InForce: p.InForce}
		if p.Entry.Spread != nil {
			e := p.Entry.Spread.Estimate()
			r.Spread = phrase.MS.At(e.Value, phrase.Half(e))
		}
		if c.Control != nil && k > 0 {
			r.Range = phrase.MS.At(c.Control.Points[k].Range, p.Lag.U)
		}
		v.Rows = append(v.Rows, r)
	}
	for k, f := range []*drawn{lagChart(c), rangeChart(c)} {
		if f != nil {
			v.Figures = append(v.Figures, *viewFigure(fmt.Sprintf("%s-%d", []string{"lag", "range"}[k], i+1), *f))
		}
	}
	return v
}
