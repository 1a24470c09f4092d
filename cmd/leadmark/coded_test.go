package main

import (
	"context"
	"math"
	"path/filepath"
	"testing"

	"leadmark/calib"
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/command"
	"leadmark/vision"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/runs"
)

// TestCodedRun calibrates a drawn run of the coded ruler, printed 0.27 % short: frames whose front
// end is out of the picture are read like the others, by the code, and the stated graduation is the
// true one.
func TestCodedRun(t *testing.T) {
	r := runs.DemoRun(9)
	r.Look = looks.Coded(0.4)
	r.Look.Scales[0].Pitch = 0.9973e-3
	r.Drops, r.Shots, r.Odd = []float64{0.1, 0.4}, 4, []string{"front-out", "front-out", "dark"}
	r.Width, r.Height = 1632, 1088
	dir := filepath.Join(t.TempDir(), "run")
	truth, err := runs.WriteRun(dir, r)
	if err != nil {
		t.Fatal(err)
	}
	run, err := runfile.Load(dir, runfile.Overrides{})
	if err != nil {
		t.Fatal(err)
	}
	folder, err := command.ListFrames(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	got, err := calib.Calibrate(context.Background(), run, folder,
		read.Options{Look: vision.NewLooker(native.Library{}).Look})
	if err != nil {
		t.Fatal(err)
	}
	var off []float64 // of the line counted from, the same for all
	hidden := 0
	for i, f := range got.Frames {
		want := truth.Frames[i]
		switch {
		case f.Status != ruler.StatusRead:
			if want.Why != "dark" {
				t.Errorf("%s: %s, want it read", f.Name, f.Reason)
			}
			continue
		case !f.Reading.Coded || !f.Reading.Absolute:
			t.Errorf("%s was read without its code", f.Name)
		case want.Why == "front-out":
			hidden++
			if f.Reading.Front != nil {
				t.Errorf("%s: a front end was found outside the picture", f.Name)
			}
		}
		off = append(off, f.Advance*1e3-want.AdvanceMM)
	}
	mid := middleOf(off)
	for _, x := range off {
		// Half a graduation would be a misreading; what is left is the ruler hanging a little
		// differently in each frame.
		if math.Abs(x-mid) > 0.25 {
			t.Errorf("an advance is %.2f mm off the others", x-mid)
		}
	}
	if hidden != 2 {
		t.Errorf("%d frames without a front end were read, want 2", hidden)
	}
	if w := warningOf(got, "graduation-stated"); w == "" {
		t.Error("nothing is said of the stated graduation")
	}
}

func warningOf(r calib.Result, code string) string {
	for _, w := range r.Warnings {
		if w.Code == code {
			return words.Sentence(w.Note)
		}
	}
	return ""
}
