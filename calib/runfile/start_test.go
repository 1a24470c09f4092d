package runfile

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"leadmark/calib/input"
	"leadmark/vision/frame"
)

// session is three batches of four frames, three seconds between frames and a minute between
// batches.
func session() []frame.Frame {
	var all []frame.Frame
	at := time.Date(2026, 5, 3, 10, 0, 0, 0, time.UTC)
	for i := range 12 {
		all = append(all, frame.Frame{Name: fmt.Sprintf("IMG_%04d.JPG", i+1), Taken: at})
		at = at.Add(3 * time.Second)
		if i%4 == 3 {
			at = at.Add(time.Minute)
		}
	}
	return all
}

func TestStartWritesWhatLoadReads(t *testing.T) {
	dir := folder(t)
	frames := append(session(), frame.Frame{Name: `#odd, "name".jpg`})
	for _, f := range frames {
		if err := os.WriteFile(filepath.Join(dir, f.Name), nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	var o Overrides
	o.Set("rig", `green "house"`)
	o.Set("method", "drop")
	o.Set("travel", "down")
	o.Set("conditions.drop_mm", "4e2")
	r, err := Start(dir, frames, Known{}, o)
	if err != nil || len(r.Written) != 2 || len(r.Kept) != 0 {
		t.Fatalf("%+v, %v", r, err)
	}
	run, err := Load(dir, Overrides{})
	if err != nil {
		t.Fatal(err)
	}
	if run.Rig != `green "house"` || run.Method != Drop || run.Travel != Down || run.Defaults.Drop != 0.4 {
		t.Errorf("%+v", run)
	}
	if len(run.Shots) != len(frames) {
		t.Fatalf("%d shots", len(run.Shots))
	}
	for i, s := range run.Shots {
		if s.Frame != frames[i].Name || !s.Use {
			t.Errorf("shot %d: %+v", i, s)
		}
	}
	text, _ := os.ReadFile(filepath.Join(dir, ShotsFileName))
	for _, want := range []string{"suggest 3 batches", "# batch 2? a pause of 1m3s", "# batch 3?",
		"IMG_0002.JPG,,,yes,,10:00:03"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
}

func TestStartSaysWhatIsLeftAndLoadAsksForIt(t *testing.T) {
	dir := folder(t, "IMG_0001.JPG", "")
	r, err := Start(dir, session()[:1], Known{}, Overrides{})
	if err != nil {
		t.Fatal(err)
	}
	left := strings.Join(r.ToFill, "\n")
	for _, want := range []string{"method", "travel", "drop_mm"} {
		if !strings.Contains(left, want) {
			t.Errorf("%q is missing in %q", want, left)
		}
	}
	_, err = Load(dir, Overrides{})
	if len(input.Faults(err)) != 2 || !strings.Contains(err.Error(), "method is not stated") ||
		!strings.Contains(err.Error(), "travel is not stated") {
		t.Errorf("%v", err)
	}
	text, _ := os.ReadFile(filepath.Join(dir, RunFileName))
	for _, s := range Settings() {
		if !strings.Contains(string(text), s.Help) {
			t.Errorf("run.toml does not say what %s is", s.Key)
		}
	}
}

func TestStartOverwritesNothing(t *testing.T) {
	dir := folder(t, "run.toml", "mine")
	r, err := Start(dir, session(), Known{}, Overrides{})
	if err != nil || len(r.Written) != 1 || len(r.Kept) != 1 || r.Kept[0] != RunFileName {
		t.Errorf("%+v, %v", r, err)
	}
	before, _ := os.ReadFile(filepath.Join(dir, ShotsFileName))
	if _, err := Start(dir, nil, Known{}, Overrides{}); err == nil {
		t.Error("no error where both files are there")
	}
	after, _ := os.ReadFile(filepath.Join(dir, ShotsFileName))
	mine, _ := os.ReadFile(filepath.Join(dir, RunFileName))
	if string(mine) != "mine" || string(before) != string(after) {
		t.Error("a file was changed")
	}
}
