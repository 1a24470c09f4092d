package figure

import (
	"strings"
	"testing"

	"leadmark/cmd/leadmark/report/testdata/bees"
)

// On the terminal every calibration has its line, the marks of one column below each other, and one
// beyond the limits is said.
func TestChartText(t *testing.T) {
	c := bees.History(bees.Nights()...).Charts()[0]
	text := ChartText(c)
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	if len(lines) != len(bees.Nights())+2 {
		t.Fatalf("%d lines:\n%s", len(lines), text)
	}
	if !strings.Contains(lines[13], "#") || !strings.Contains(lines[13], "OUT: beyond the limits") ||
		strings.Contains(lines[12], "OUT") {
		t.Errorf("the last is beyond the limits:\n%s", text)
	}
	if strings.Count(text, "in force") != 1 || !strings.Contains(lines[13], "in force") {
		t.Errorf("in force:\n%s", text)
	}
	at := strings.Index(lines[1], ":")
	for _, l := range lines[1:13] {
		if strings.Index(l, ":") != at {
			t.Errorf("the lower limit does not stand in one column:\n%s", text)
		}
	}
	if two := ChartText(bees.History(52.3, 52.1).Charts()[0]); strings.Contains(two, "limit") {
		t.Errorf("limits from two calibrations:\n%s", two)
	}
	for _, l := range lines {
		if n := len([]rune(l)); n > 130 {
			t.Errorf("a line of %d characters", n)
		}
	}
}
