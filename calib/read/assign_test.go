package read

import (
	"reflect"
	"testing"

	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

func TestAssign(t *testing.T) {
	files := func(names ...string) (f Folder) {
		for _, n := range names {
			f.Frames = append(f.Frames, frame.Frame{Name: n})
		}
		return f
	}
	run := runfile.Run{Method: runfile.Drop, Rig: "greenhouse",
		Defaults: runfile.Conditions{Gravity: runfile.StandardGravity}}
	run.Trip = &runfile.TripSpec{Still: "still.jpg"}
	run.HasShots = true
	run.Shots = []runfile.ShotEntry{{Frame: "a.jpg", Use: true, Conditions: runfile.Conditions{Drop: 0.4}},
		{Frame: "b.jpg", Why: "hand in the beam"}, {Frame: "bad.jpg", Use: true}}
	folder := files("a.jpg", "b.jpg", "c.jpg", "still.jpg")
	folder.Refused = []frame.Refusal{{Name: "bad.jpg", Note: note.Of("truncated", "jpeg")}}
	check := func(name string, run runfile.Run, want ...string) {
		t.Helper()
		for i, f := range Assign(run, folder) {
			got := string(f.Status)
			if f.Reason.Code != "" {
				got += " " + f.Reason.Code
			}
			if got != want[i] {
				t.Errorf("%s: %s is %q, want %q (%s)", name, f.Name, got, want[i], f.Reason)
			}
		}
	}
	check("listed", run, "", "left_out set-aside", "left_out not-listed", "left_out still", "refused truncated")
	run.Defaults.Drop = 0.3 // what run.toml says suffices for a frame that is not listed
	check("with a default height", run, "", "left_out set-aside", "", "left_out still", "refused truncated")
	run.HasShots, run.Shots = false, nil
	check("without shots.csv", run, "", "", "", "left_out still", "refused truncated")
	if r := Assign(run, folder)[1].Reason; !r.None() {
		t.Errorf("%v", r)
	}
}

// What a person put right is told beside the frame, and what they left out is left out.
func TestAssignFollowsCorrections(t *testing.T) {
	r := runfile.Run{Corrections: runfile.Corrections{}.With(runfile.Correction{Frame: "a.jpg",
		LeftOut: "a hand in the picture"})}
	frames := Assign(r, Folder{Frames: []frame.Frame{{Name: "a.jpg"}, {Name: "b.jpg"}}})
	if f := frames[0]; f.Status != ruler.StatusLeftOut ||
		!f.Reason.Same(note.New(CodeLeftOut, "a hand in the picture")) ||
		!reflect.DeepEqual(f.Corrected, []string{runfile.CorrectedLeftOut}) {
		t.Errorf("a.jpg: %+v", f)
	}
	if f := frames[1]; f.Status != "" || f.Corrected != nil {
		t.Errorf("b.jpg: %+v", f)
	}
}
