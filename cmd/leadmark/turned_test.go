package main

import (
	"math"
	"path/filepath"
	"testing"

	"leadmark/vision/synth/knock"
)

// A camera turned about its tripod's head in the middle of a run: its frames are kept, and what is
// read in them is right within what is stated. One that is turned too little to matter costs nothing.
func TestTurnedCamera(t *testing.T) {
	if testing.Short() {
		t.Skip("draws runs")
	}
	const deg = math.Pi / 180
	for name, c := range map[string]struct {
		move  knock.Move
		named int
	}{
		"pan, tilt and roll": {knock.Move{Pan: 0.2 * deg, Tilt: -0.15 * deg, Roll: 0.16 * deg}, 2},
		"hardly":             {knock.Move{Pan: 0.0005 * deg, Roll: 0.001 * deg}, 0},
	} {
		t.Run(name, func(t *testing.T) {
			c.move.Behind, c.move.Below = 0.06, 0.06
			dir := filepath.Join(t.TempDir(), "run")
			truth, err := knock.Write(dir, knock.Spec{Seed: 5, Move: c.move, After: 3, Frames: 5, Track: 0.48,
				Backdrop: 0.56, Contrast: 0.05})
			if err != nil {
				t.Fatal(err)
			}
			got := calibrateFolder(t, dir)
			if _, named := got.warning("camera-moved"); len(named) != c.named {
				t.Errorf("named: %v", named)
			}
			for i, f := range got.Frames {
				if f.Status != "read" {
					t.Errorf("%s: %s, %s", f.File, f.Status, f.Reason)
				} else if off := *f.AdvanceMM - 1e3*truth[i].Advance; math.Abs(off) > 3**f.UMM || *f.UMM > 0.06 {
					t.Errorf("%s: advance off by %.3f mm (u %.3f)", f.File, off, *f.UMM)
				}
			}
		})
	}
}
