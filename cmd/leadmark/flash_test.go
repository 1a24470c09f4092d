package main

import (
	"slices"
	"strings"
	"testing"

	"leadmark/vision/synth/runs"
)

// A head that fired weakly 3.2 s after the shot before (by the times in the files; the others came
// 23.2 s apart), and one that failed: both are named, with the rest after which heads fired fully.
func TestWeakFlashIsNamedWithItsRest(t *testing.T) {
	if testing.Short() {
		t.Skip("draws a run")
	}
	spec := runs.DemoRun(21)
	spec.Drops, spec.Shots, spec.Odd = []float64{0.1, 0.4}, 3, []string{"weak", "dark"}
	spec.Width, spec.Height = 1200, 800
	got, truth := calibrateRun(t, spec)
	odd := map[string]string{}
	for _, f := range truth.Frames {
		if f.Odd != "" {
			odd[f.Odd] = f.File
		}
	}
	text, frames := got.warning("flash-weak")
	if !slices.Equal(frames, []string{odd["weak"]}) ||
		!strings.Contains(text, "3.2 s after the frame before, while after 23.2 s or more the heads fired fully") {
		t.Errorf("weak flash: %q %v, want %s", text, frames, odd["weak"])
	}
	if _, frames := got.warning("flash-failed"); !slices.Equal(frames, []string{odd["dark"]}) {
		t.Errorf("failed flash: %v, want %s", frames, odd["dark"])
	}
}
