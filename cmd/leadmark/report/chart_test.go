package report

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/calib/rig"
	"leadmark/cmd/leadmark/report/testdata/bees"
)

func TestHistoryPageIsSound(t *testing.T) {
	for name, h := range map[string]rig.History{
		"many": bees.History(bees.Nights()...), "two": bees.History(52.3, 52.1), "none": {},
		"damaged": {Damaged: []rig.LineFault{{Line: 3, What: "not JSON"}}},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(outDir(t, "history-"+name), "h.html")
			_ = os.MkdirAll(filepath.Dir(path), 0o755)
			for range 2 {
				if err := WriteHistory(path, "greenhouse", h, options()); err != nil {
					t.Fatal(err)
				}
			}
			page := read(t, path)
			p := parse(t, page)
			checkIDs(t, p)
			checkLoads(t, p)
			checkPicturesAndTables(t, p)
			checkHeadings(t, p)
			if strings.Contains(page, "<b>") {
				t.Error("markup came through")
			}
		})
	}
	path := filepath.Join(t.TempDir(), "theirs.html")
	if err := os.WriteFile(path, []byte("theirs"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := WriteHistory(path, "greenhouse", bees.History(52.3), options()); !errors.Is(err, ErrNotOurs) ||
		read(t, path) != "theirs" {
		t.Errorf("%v", err)
	}
}

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
