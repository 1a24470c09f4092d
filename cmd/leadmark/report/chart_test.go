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
