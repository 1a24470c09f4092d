package runfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leadmark/fit/design"
	"leadmark/vision/frame"
)

func planned() *design.Schedule {
	low, high := design.Batch{Drop: 0.05, Shots: 2}, design.Batch{Drop: 0.9, Shots: 3}
	stage := low
	stage.Shots = 1
	other := high
	other.Shots = 1
	return &design.Schedule{Batches: []design.Batch{low, high}, Stage: []design.Batch{stage, other}, Shots: 5}
}

func frames(n int) []frame.Frame {
	var all []frame.Frame
	for _, name := range []string{"a.jpg", "b.jpg", "c.jpg", "d.jpg", "e.jpg", "f.jpg"}[:n] {
		all = append(all, frame.Frame{Name: name})
	}
	return all
}

// The first stage comes first, then what the plan asks for beyond it; a slate says what was done
// and wins.
func TestStartFillsInThePlan(t *testing.T) {
	for name, c := range map[string]struct {
		n      int
		slates map[string]SlateSeen
		want   []string
		left   string
	}{
		"as many": {5, nil, []string{"a.jpg,50,", "b.jpg,900,", "c.jpg,50,", "d.jpg,900,", "e.jpg,900,"}, ""},
		"fewer": {2, nil, []string{"a.jpg,50,", "b.jpg,900,", "# still to shoot, as planned: 1 x drop_mm 50\n",
			"# still to shoot, as planned: 2 x drop_mm 900\n"}, ""},
		"more": {6, nil, []string{"e.jpg,900,", "f.jpg,,"}, "drop_mm of each frame"},
	} {
		dir := t.TempDir()
		r, err := Start(dir, frames(c.n), Known{Slates: c.slates, Plan: planned()}, Overrides{})
		if err != nil {
			t.Fatal(err)
		}
		text, _ := os.ReadFile(filepath.Join(dir, ShotsFileName))
		for _, w := range c.want {
			if !strings.Contains(string(text), "\n"+w) {
				t.Errorf("%s: no %q in\n%s", name, w, text)
			}
		}
		fillIn := strings.Join(r.ToFill, "\n")
		if !strings.Contains(fillIn, "as planned") || !strings.Contains(fillIn, c.left) || c.left == "" &&
			strings.Contains(fillIn, "drop_mm of each frame") {
			t.Errorf("%s: %q", name, r.ToFill)
		}
		run, _ := os.ReadFile(filepath.Join(dir, RunFileName))
		if !strings.Contains(string(run), `method = "drop"`) {
			t.Errorf("%s: a plan of drops is for the method drop:\n%s", name, run)
		}
	}
}

func TestASlateWinsOverThePlan(t *testing.T) {
	c := startCells{cells: map[string]map[string]string{"b.jpg": {"drop_mm": "400"}},
		remarks: map[string]string{"a.jpg": "shows a slate"}}
	left := c.fillFromPlan(frames(3), *planned())
	if c.cells["b.jpg"]["drop_mm"] != "400" || c.cells["c.jpg"]["drop_mm"] != "900" || c.cells["a.jpg"] != nil ||
		len(left) != 2 {
		t.Errorf("%v, %v", c.cells, left)
	}
}
