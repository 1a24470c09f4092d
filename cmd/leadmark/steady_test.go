package main

import (
	"testing"

	"leadmark/vision/synth/runs"
)

// steady is an invented run of a rig that repeats itself exactly, its ruler on rails, at half size.
func steady(drops []float64, odd ...string) runs.RunSpec {
	s := runs.TwelveRuns(77)[1]
	s.Width, s.Height = s.Width/2, s.Height/2
	s.Drops, s.Shots, s.Odd = drops, 5, odd
	s.Spread, s.Loose, s.UDrop, s.UDropShot, s.UDropCommon = 0, 0, 0, 0, 0
	return s
}

// The drops of a steady rig end in one place, at every height in its own, and each is read; where
// nothing shows that the ruler moves at all, that is said.
func TestSteadyRig(t *testing.T) {
	if testing.Short() {
		t.Skip("draws runs")
	}
	for name, c := range map[string]struct {
		spec   runs.RunSpec
		unsure bool
	}{
		"two heights": {steady([]float64{0.12, 0.5}), false},
		"one height":  {steady([]float64{0.3}), true},
	} {
		t.Run(name, func(t *testing.T) {
			got, _ := calibrateRun(t, c.spec)
			read := 0
			for _, f := range got.Frames {
				if f.Status == "read" {
					read++
				}
			}
			if want := 5 * len(c.spec.Drops); read != want {
				t.Errorf("%d of %d frames read", read, want)
			}
			if told, _ := got.warning("one-place"); (told != "") != c.unsure {
				t.Errorf("warned that it may lie still: %q", told)
			}
		})
	}
}
