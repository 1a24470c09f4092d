package figure

import (
	"fmt"
	"math"
	"strings"
	"time"

	"leadmark/calib/rig"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/figure/svg"
	"leadmark/cmd/leadmark/report/phrase"
)

const chartColumns = 52 // characters of the drawn part of a chart for the terminal

// ChartText draws a control chart for the terminal: a line for each calibration, the oldest first,
// with its lag and 95 % interval on a common scale between the control limits.
func ChartText(c rig.Chart) string {
	var b strings.Builder
	if len(c.Points) == 0 {
		return words.Sentence(c.Note) + "\n"
	}
	a := chartAxis(c)
	a.P0, a.P1 = 0, chartColumns-1
	width := 0
	for _, p := range c.Points {
		width = max(width, len([]rune(phrase.Lag(p.Lag))))
	}
	fmt.Fprintf(&b, "%4s  %-10s  %-*s  %s\n", "no.", "accepted", width, "lag", chartHead(c, a))
	for _, p := range c.Points {
		lag := phrase.Lag(p.Lag)
		line := fmt.Sprintf("%4d  %s  %s  %s", p.Number, p.Accepted.Format(time.DateOnly),
			lag+strings.Repeat(" ", width-len([]rune(lag))), chartRow(c, a, p))
		var notes []string
		if p.InForce {
			notes = append(notes, "in force")
		}
		if !p.Out.None() {
			notes = append(notes, "OUT: "+words.Sentence(p.Out))
		}
		b.WriteString(strings.TrimRight(line+"  "+strings.Join(notes, ", "), " ") + "\n")
	}
	b.WriteString(strings.TrimRight(strings.Repeat(" ", 20+width)+chartFoot(c, a), " ") + "\n")
	return b.String()
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
	if !p.Out.None() {
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
