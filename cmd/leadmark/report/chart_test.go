package report

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"leadmark/calib/record"
	"leadmark/calib/rig"
)

// beeHistory is a rig's invented history: lags in ms, one a night.
func beeHistory(lags ...float64) rig.History {
	var h rig.History
	for i, lag := range lags {
		e := rig.Entry{Accepted: time.Date(2026, 5, 3+i, 22, 0, 0, 0, time.UTC), RunSHA256: fmt.Sprint(i),
			Note: "night <b>" + fmt.Sprint(i+1)}
		e.Lag = &record.LagEntry{ValueMS: lag, UMS: 0.18, DF: 20, Interval95: &[2]float64{lag - 0.37, lag + 0.37}}
		e.Spread = &record.SpreadEntry{ValueMS: 0.8, Interval95: &[2]float64{0.62, 1.1}}
		e.Setup = &rig.Setup{Body: "Bench & Co <b>", FocalMM: 100}
		h.Entries = append(h.Entries, e)
	}
	return h
}

var nights = []float64{52.3, 52.1, 52.4, 52.2, 52.5, 52.3, 52.1, 52.2, 52.4, 52.3, 52.2, 52.3, 54.9}

func TestHistoryPageIsSound(t *testing.T) {
	for name, h := range map[string]rig.History{
		"many": beeHistory(nights...), "two": beeHistory(52.3, 52.1), "none": {},
		"damaged": {Damaged: []rig.LineFault{{Line: 3, What: "not JSON"}}},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(outDir(t, "history-"+name), "h.html")
			_ = os.MkdirAll(filepath.Dir(path), 0o755)
			for range 2 {
				if err := WriteHistory(path, "greenhouse", h, beeOptions()); err != nil {
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
	if err := WriteHistory(path, "greenhouse", beeHistory(52.3), beeOptions()); !errors.Is(err, ErrNotOurs) ||
		read(t, path) != "theirs" {
		t.Errorf("%v", err)
	}
}

// On the terminal every calibration has its line, the marks of one column below each other, and one
// beyond the limits is said.
func TestChartText(t *testing.T) {
	c := beeHistory(nights...).Charts()[0]
	text := ChartText(c)
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	if len(lines) != len(nights)+2 {
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
	if two := ChartText(beeHistory(52.3, 52.1).Charts()[0]); strings.Contains(two, "limit") {
		t.Errorf("limits from two calibrations:\n%s", two)
	}
	for _, l := range lines {
		if n := len([]rune(l)); n > 130 {
			t.Errorf("a line of %d characters", n)
		}
	}
}
