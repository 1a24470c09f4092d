package main

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"testing"

	"leadmark/calib"
	"leadmark/ruler/rulertest"
)

// TestKnockedCamera knocks the camera in the middle of a drawn run: every frame on the smaller
// side is named and none of its readings is mixed with the others.
func TestKnockedCamera(t *testing.T) {
	if testing.Short() {
		t.Skip("draws a run")
	}
	spec := rulertest.TwelveRuns(77)[0]
	spec.Width, spec.Height = spec.Width/2, spec.Height/2
	spec.Odd = nil
	spec.Move = &rulertest.Move{After: 10, DX: 9, DY: -6}
	dir := filepath.Join(t.TempDir(), spec.Name)
	if _, err := rulertest.WriteRun(dir, spec); err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	if err := run(t.Context(), []string{"calibrate", dir, "--json", "--out", dir + "-report", "--rigs", t.TempDir()}, &stdout, &stderr); err != nil {
		t.Fatalf("%v\n%s", err, &stderr)
	}
	var got struct {
		Frames   []calib.FrameEntry
		Warnings []calib.WarningEntry
	}
	if err := json.Unmarshal(stdout.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	var named []string
	for _, w := range got.Warnings {
		if w.Code == "camera-moved" {
			named = append(named, w.Frames...)
		}
	}
	for i, f := range got.Frames {
		if after := i >= 10; after == (f.Status == "read") {
			t.Errorf("%s (number %d of the run) has status %s, reason %q", f.File, i+1, f.Status, f.Reason)
		}
	}
	if want := len(got.Frames) - 10; len(named) != want {
		t.Errorf("%d frames are named, want %d: %v", len(named), want, named)
	}
}
