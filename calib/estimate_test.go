package calib

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"leadmark/calib/input"
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// drops are invented frames of a rig of a given lag and spread, n from each height, by the
// formulas of free fall: v = sqrt(2 g h), s = b + v tau + g tau^2 / 2.
func drops(lag, spread, offset float64, n int, heights ...float64) []read.Shot {
	r := rand.New(rand.NewPCG(7, 7))
	var all []read.Shot
	for _, h := range heights {
		for range n {
			tau := lag + spread*r.NormFloat64()
			s := offset + math.Sqrt(2*runfile.StandardGravity*h)*tau + runfile.StandardGravity*tau*tau/2
			f := read.Shot{Frame: frame.Frame{Name: fmt.Sprintf("IMG_%04d.JPG", len(all)+1), Width: 600,
				Height: 400, Exposure: 0.005}, Status: ruler.StatusRead, Advance: s + 5e-5*r.NormFloat64(), U: 5e-5}
			f.Conditions = runfile.Conditions{Drop: h, Gravity: runfile.StandardGravity}
			all = append(all, f)
		}
	}
	return all
}

func dropRun() runfile.Run {
	return runfile.Run{Method: runfile.Drop, Rig: "greenhouse",
		Defaults: runfile.Conditions{Gravity: runfile.StandardGravity}}
}

func TestEstimateFindsTheLagItWasGiven(t *testing.T) {
	frames := drops(0.05, 0.0005, 0.001, 8, 0.1, 0.4, 0.9)
	r, err := Estimate(dropRun(), frames, Counting{Line: &ruler.Line{B: ruler.Point{X: 1}}})
	if err != nil {
		t.Fatal(err)
	}
	if l := r.Fit.Lag; l == nil || l.Interval95.Low > 0.05 || l.Interval95.High < 0.05 {
		t.Errorf("lag: %+v", l)
	}
	if b := r.Fit.TripOffset; b == nil || math.Abs(b.Value-0.001) > 4*b.U {
		t.Errorf("trip offset: %+v", b)
	}
	for i, f := range r.Frames {
		if f.Fit.Fitted == 0 || math.Abs(f.Advance-f.Fit.Fitted-f.Fit.Residual) > 1e-12 {
			t.Errorf("frame %d has another shot's fit: %+v", i, f.Fit)
		}
	}
}

func TestEstimatePutsTheFitBesideTheRightFrames(t *testing.T) {
	frames := drops(0.05, 0.0005, 0, 6, 0.1, 0.9)
	frames[2].Status, frames[2].Reason = ruler.StatusRefused, note.New("dark")
	frames[4].Conditions.Drop = 0 // nobody wrote its height down
	frames[7].Advance += 0.02     // a misreading by two centimetres
	frames[9].Exposure = 0.01
	r, err := Estimate(dropRun(), frames, Counting{})
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range r.Frames {
		wantFit := i != 2 && i != 4
		if got := f.Fit.Fitted != 0; got != wantFit {
			t.Errorf("frame %d: fit %+v", i, f.Fit)
		}
		if f.Fit.Outlier != (i == 7) {
			t.Errorf("frame %d: outlier %v", i, f.Fit.Outlier)
		}
	}
	if f := r.Frames[4]; f.Status != ruler.StatusLeftOut || f.Reason.Code != CodeNoConditions {
		t.Errorf("frame without a height: %v %v", f.Status, f.Reason)
	}
	if w := warning(r, "exposure-time-varies"); len(w.Frames) != 1 || w.Frames[0] != "IMG_0010.JPG" ||
		!slices.Contains(w.List(1), "1/100 s") {
		t.Errorf("%+v", w)
	}
	if w := warning(r, "odd-shots"); len(w.Frames) != 1 || w.Frames[0] != "IMG_0008.JPG" {
		t.Errorf("no warning names the outlier: %+v", r.Warnings)
	}
}

func warning(r Result, code string) Warning {
	for _, w := range r.Warnings {
		if w.Code == code {
			return w
		}
	}
	return Warning{}
}

func TestEstimateSaysWhyThereIsNoResult(t *testing.T) {
	frames := drops(0.05, 0.0005, 0, 2, 0.4)
	for i := range frames {
		frames[i].Status, frames[i].Reason = ruler.StatusRefused, note.New("dark")
	}
	for name, list := range map[string][]read.Shot{"none": nil, "refused": frames,
		"two": drops(0.05, 0.0005, 0, 2, 0.4)} {
		_, err := Estimate(dropRun(), list, Counting{})
		var none *input.NoResult
		if !errors.As(err, &none) {
			t.Errorf("%s: %T %v", name, err, err)
			continue
		}
		if what, hint := input.Describe(err); what == "" || hint == "" || strings.Contains(what, "hint:") {
			t.Errorf("%s: %q, %q", name, what, hint)
		}
	}
}

func TestDigestTellsRunsApart(t *testing.T) {
	frames := drops(0.05, 0.0005, 0, 6, 0.1, 0.9)
	digest := func(change func([]read.Shot, *runfile.Run)) string {
		f, run := append([]read.Shot(nil), frames...), dropRun()
		change(f, &run)
		r, err := Estimate(run, f, Counting{})
		if err != nil {
			t.Fatal(err)
		}
		return r.RunSHA256
	}
	plain := digest(func([]read.Shot, *runfile.Run) {})
	if len(plain) != 64 {
		t.Errorf("not a SHA-256: %q", plain)
	}
	if digest(func(f []read.Shot, _ *runfile.Run) { f[0], f[1] = f[1], f[0] }) != plain {
		t.Error("the order of the frames changed the digest")
	}
	if digest(func(f []read.Shot, _ *runfile.Run) { f[3].Digest = "another picture" }) == plain {
		t.Error("another picture gave the same digest")
	}
	if digest(func(_ []read.Shot, r *runfile.Run) { r.Digest = "another description" }) == plain {
		t.Error("another run.toml gave the same digest")
	}
}

// What the fit is told of each shot's time and exposure: seconds since the first frame, left-out
// ones too.
func TestShotsCarryTimeAndSetting(t *testing.T) {
	start := time.Date(2026, 5, 3, 10, 0, 0, 0, time.UTC)
	still := read.Shot{Frame: frame.Frame{Taken: start}, Status: ruler.StatusLeftOut}
	a := read.Shot{Frame: frame.Frame{Taken: start.Add(90 * time.Second), Exposure: 0.005, FNumber: 11,
		Focal: 0.1, ISO: 200}, Status: ruler.StatusRead}
	b := a
	b.ISO, b.Taken = 400, time.Time{}
	c := a
	c.Exposure = 0.01
	shots, _ := shotsOf(unfitted([]read.Shot{still, a, b, c, {Status: ruler.StatusRead}}), false)
	if len(shots) != 4 || shots[0].Time != 90 || !shots[0].HasTime || shots[1].HasTime {
		t.Fatalf("%+v", shots)
	}
	if shots[0].Setting != shots[1].Setting || shots[0].Setting == shots[2].Setting || shots[3].Setting != "" {
		t.Errorf("%q, %q, %q, %q", shots[0].Setting, shots[1].Setting, shots[2].Setting, shots[3].Setting)
	}
}
