package shoot

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/calib/input"
)

// What Start writes is read by Load once the blanks are filled in, and says until then which are
// left.
func TestStart(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "bees1")
	for _, d := range []string{"bees1", "night1-report"} {
		if err := os.Mkdir(filepath.Join(parent, d), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	result := `{"schema": "leadmark/result/1", "trip_line_px": [[20, 0], [20, 999]], "frames": [{"px_per_mm": 24.5}]}`
	if err := os.WriteFile(filepath.Join(parent, "night1-report", "result.json"), []byte(result),
		0o666); err != nil {
		t.Fatal(err)
	}
	toFill, err := Start(dir, Known{Rig: "green\"house"})
	if err != nil || len(toFill) != 3 || !strings.Contains(toFill[2],
		"../night1-report/result.json") {
		t.Fatalf("%q, %v", toFill, err)
	}
	_, err = Load(dir)
	if err == nil || !strings.Contains(err.Error(), "travel") ||
		!strings.Contains(err.Error(), "px_per_mm") {
		t.Errorf("unfilled: %v", err)
	}
	path := filepath.Join(dir, FileName)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	filled := strings.NewReplacer(`subject = ""`, `subject = "bee.toml"`, `travel = ""`,
		`travel = "right"`, "# scale_from", "scale_from", "# empty", "empty", "# exit_px",
		"exit_px").Replace(string(text))
	if err := os.WriteFile(path, []byte(filled), 0o666); err != nil {
		t.Fatal(err)
	}
	s, err := Load(dir)
	if err != nil || s.Rig != `green"house` || s.Scale != 24500 ||
		s.TripLine[1] != [2]float64{20, 999} || s.Exit == nil || s.Empty != "IMG_0001.JPG" {
		t.Errorf("%+v, %v\n%s", s, err, filled)
	}
	var known *input.Error
	if _, err := Start(dir, Known{}); !errors.As(err, &known) ||
		!strings.Contains(known.What, "already") {
		t.Errorf("a second time: %v", err)
	}
	if now, _ := os.ReadFile(path); string(now) != filled {
		t.Error("the file was changed")
	}
	if _, err := Start(filepath.Join(parent, "none"), Known{}); !errors.As(err, &known) {
		t.Errorf("no folder: %v", err)
	}
}
