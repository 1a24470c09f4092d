package main

import (
	"math"
	"slices"
	"testing"

	"leadmark/vision/synth/runs"
)

// knocked is an invented run whose camera is knocked after ten frames, at half size.
func knocked(m runs.Move) runs.RunSpec {
	spec := runs.TwelveRuns(77)[0]
	spec.Width, spec.Height = spec.Width/2, spec.Height/2
	spec.Odd, spec.Trip = nil, "line"
	m.After = 10
	spec.Move = &m
	return spec
}

// A camera knocked aside: every frame on the smaller side is named, and its reading is corrected by
// the move that the scene shows, within the uncertainty that is then stated. One frame alone, and
// one that is zoomed.
func TestKnockedCamera(t *testing.T) {
	if testing.Short() {
		t.Skip("draws runs")
	}
	for name, c := range map[string]struct {
		move  runs.Move
		named int
		read  bool
	}{
		"to the end": {runs.Move{DX: 9, DY: -6}, 6, true},
		"one frame":  {runs.Move{DX: -14, DY: 11, Frames: 1}, 1, true},
		"zoomed":     {runs.Move{DX: 5, DY: 4, Zoom: 0.02}, 6, false},
	} {
		t.Run(name, func(t *testing.T) {
			got, truth := calibrateRun(t, knocked(c.move))
			_, named := got.warning("camera-moved")
			if len(named) != c.named || named[0] != got.Frames[10].File {
				t.Errorf("named: %v", named)
			}
			for i, f := range got.Frames {
				moved := slices.Contains(named, f.File)
				switch {
				case moved && (f.Status == "read") != c.read,
					!moved && truth.Frames[i].Readable && f.Status != "read":
					t.Errorf("%s (moved %v): %s, %s", f.File, moved, f.Status, f.Reason)
				case f.Status != "read":
				case math.Abs(*f.AdvanceMM-truth.Frames[i].AtLineMM) > 3**f.UMM+0.05:
					t.Errorf("%s (moved %v): advance %.3f mm (u %.3f), truly %.3f", f.File, moved, *f.AdvanceMM,
						*f.UMM, truth.Frames[i].AtLineMM)
				}
			}
		})
	}
}
