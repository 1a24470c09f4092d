package summary

import (
	"strings"
	"testing"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/report/testdata/bees"
	"leadmark/fit"
	"leadmark/vision/ruler"
)

func TestHeadSaysTheMostUseful(t *testing.T) {
	for _, c := range []struct {
		name, want string
		r          calib.Result
	}{
		{"lag", "This rig fires 52.30 ms ± 0.38 ms after the beam is broken.", bees.Run(3, 0.4, 0.9)},
		{"advance", "When the flash fires, the front end is 160.7 mm ± 2.2 mm past the program's own " +
			"counting line.", bees.AdvanceOnly(8)},
		{"nothing", "This run could not tell when the rig fires after the beam is broken.", calib.Result{}},
	} {
		if got := Head(c.r).String(); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestSpreadThatMayBeZero(t *testing.T) {
	r := bees.Run(3, 0.4, 0.9)
	r.Fit.Spread = &fit.Estimate{Value: 0, Interval95: fit.Interval{Low: 0, High: 0.3e-3}}
	for _, l := range Answer(r) {
		if l.Key == "spread" && l.Value != "below 0.30 ms" {
			t.Errorf("spread is %q, want an upper bound", l.Value)
		}
	}
}

func TestWhyThereIsNoLag(t *testing.T) {
	shot := func(c runfile.Conditions) calib.FrameResult {
		var f calib.FrameResult
		f.Status, f.Conditions = ruler.StatusRead, c
		return f
	}
	line := &ruler.Line{B: ruler.Point{Y: 1}}
	for _, c := range []struct {
		want string
		r    calib.Result
	}{
		{"no frame could be read", calib.Result{}},
		{"second height", calib.Result{CountLine: line,
			Frames: []calib.FrameResult{shot(runfile.Conditions{Drop: 0.4})}}},
		{"drop_mm", calib.Result{CountLine: line, Run: runfile.Run{Method: runfile.Drop},
			Frames: []calib.FrameResult{shot(runfile.Conditions{})}}},
		{"no delay was swept", calib.Result{CountLine: line, Run: runfile.Run{Method: runfile.Push},
			Frames: []calib.FrameResult{shot(runfile.Conditions{})}}},
		{"needs the trip place", calib.Result{CountLine: line, Run: runfile.Run{Method: runfile.Push},
			Frames: []calib.FrameResult{shot(runfile.Conditions{}), shot(runfile.Conditions{Delay: 0.01})}}},
		// Readings by hand count from a zero that need not be the trip place.
		{"second height", calib.Result{Frames: []calib.FrameResult{shot(runfile.Conditions{Drop: 0.4})}}},
	} {
		if got := Answer(c.r)[0]; got.Known() || !strings.Contains(got.Note, c.want) {
			t.Errorf("note is %q, want one that says %q", got.Note, c.want)
		}
	}
}
