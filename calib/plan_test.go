package calib

import (
	"path/filepath"
	"testing"

	"leadmark/calib/runfile"
)

// A first plan keeps to the rig's limit, whatever the goal.
func TestPlanFirstKeepsToTheLimits(t *testing.T) {
	run, err := runfile.Sketch(filepath.Join(t.TempDir(), "nowhere"), runfile.Overrides{})
	if err != nil || run.Method != runfile.Drop {
		t.Fatalf("%+v, %v", run, err)
	}
	run.Goal, run.Limits.MaxDrop = runfile.Goal{U: 0.3e-3}, 0.4
	s, err := PlanFirst(run)
	if err != nil || len(s.Batches) == 0 || s.Shots == 0 {
		t.Fatalf("%+v, %v", s, err)
	}
	for _, b := range s.Batches {
		if b.Drop > 0.4+1e-12 || b.Drop <= 0 {
			t.Errorf("a drop of %v m", b.Drop)
		}
	}
	run.Goal = runfile.Goal{}
	if _, err := PlanFirst(run); err == nil {
		t.Error("a plan for no goal")
	}
}
