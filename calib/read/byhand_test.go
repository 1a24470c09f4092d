package read

import (
	"testing"

	"leadmark/calib/runfile"
)

func TestHandReadings(t *testing.T) {
	run := runfile.Run{Method: runfile.Drop, Defaults: runfile.Conditions{Gravity: runfile.StandardGravity}}
	run.HasShots = true
	run.Shots = []runfile.ShotEntry{{Frame: "a.jpg", Use: true,
		Conditions: runfile.Conditions{Drop: 0.4, Gravity: 9.8}}, {Frame: "b.jpg", Why: "blurred"},
		{Frame: "c.jpg", Use: true}}
	list, err := runfile.ParseReadings("r.csv", []byte("u_mm,frame,advance_mm,drop_mm\n"+
		"0.1,a.jpg,160,\n0.1,b.jpg,161,500\n0.2,d.jpg,,300\n0.2,e.jpg,-3,300\n"), run)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"a.jpg": "read ", "b.jpg": "left_out set-aside", "c.jpg": "left_out no-reading",
		"d.jpg": "refused no-reading", "e.jpg": "read "}
	results := ByHand(run, list)
	if len(results) != len(want) {
		t.Errorf("%d frames", len(results))
	}
	for _, f := range results {
		if got := string(f.Status) + " " + f.Reason.Code; got != want[f.Name] {
			t.Errorf("%s is %q, want %q", f.Name, got, want[f.Name])
		}
	}
	if a := results[0]; a.Conditions.Drop != 0.4 || a.Advance != 0.16 || a.U != 1e-4 {
		t.Errorf("%+v", a)
	}
}
