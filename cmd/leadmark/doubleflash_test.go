package main

import (
	"bytes"
	"encoding/json"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"leadmark/calib/record"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/photo"
	"leadmark/vision/synth/runs"
)

// calibrated is what a run's result says, as far as tests ask.
type calibrated struct {
	Determined []string
	Lag        *record.LagEntry
	TripOffset *record.OffsetEntry `json:"trip_offset"`
	TripLinePX [][2]float64        `json:"trip_line_px"`
	Frames     []record.FrameEntry
	Warnings   []record.WarningEntry
}

func (c calibrated) warning(code string) (text string, frames []string) {
	for _, w := range c.Warnings {
		if w.Code == code {
			text += w.Text + "\n"
			frames = append(frames, w.Frames...)
		}
	}
	return text, frames
}

// calibrateRun draws a run into a folder and calibrates it by the command.
func calibrateRun(t *testing.T, spec runs.RunSpec, flags ...string) (calibrated, runs.RunTruth) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "run")
	truth, err := runs.WriteRun(dir, spec)
	if err != nil {
		t.Fatal(err)
	}
	return calibrateFolder(t, dir, flags...), truth
}

func calibrateFolder(t *testing.T, dir string, flags ...string) (got calibrated) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	args := append([]string{"calibrate", dir, "--json", "--out", dir + "-report", "--rigs", t.TempDir()}, flags...)
	if err := run(t.Context(), args, &stdout, &stderr); err != nil {
		t.Fatalf("%v\n%s", err, &stderr)
	}
	if err := json.Unmarshal(stdout.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	return got
}

// doubleFlashRun is an invented run of two flashes a frame, small so that it is quick.
func doubleFlashRun() runs.RunSpec {
	return runs.RunSpec{Name: "twin", Method: "push", Speeds: []float64{0.8, 1.7, 2.6}, Shots: 2, Lag: 30e-3,
		Spread: 0.4e-3,
		Travel: "right", Tilt: 0.03, Loose: 0.3, Look: looks.WhitePlastic(),
		Backdrop: photo.Backdrop{Kind: photo.Cloth},
		Width:    1100, Height: 460, Twin: 2e-3, TwinGain: 0.8, Unstated: true, FullWell: 12000, Seed: 41}
}

// judgeSpeeds holds each frame's measured speed against the truth.
func judgeSpeeds(t *testing.T, got calibrated, truth runs.RunTruth) {
	t.Helper()
	n := 0
	for i, want := range truth.Frames {
		f := got.Frames[i]
		if want.SecondPX == nil || f.Status != "read" || f.SpeedMPS == nil {
			continue
		}
		n++
		if z := (*f.SpeedMPS - want.SpeedMPS) / *f.USpeedMPS; math.Abs(z) > 4 {
			t.Errorf("%s: %.4f m/s (u %.4f), truly %.4f", f.File, *f.SpeedMPS, *f.USpeedMPS, want.SpeedMPS)
		}
	}
	if n < len(truth.Frames)*7/10 {
		t.Errorf("the speed of only %d of %d frames was measured", n, len(truth.Frames))
	}
}

func judgeLag(t *testing.T, got calibrated, truth runs.RunTruth) {
	t.Helper()
	if got.Lag == nil || got.Lag.Interval95 == nil || !slices.Contains(got.Determined, "trip_offset") {
		t.Fatalf("determined: %v", got.Determined)
	}
	if off := (got.Lag.ValueMS - truth.LagMS) / got.Lag.UMS; math.Abs(off) > 3 {
		t.Errorf("lag %.2f ms (u %.2f), truly %.2f", got.Lag.ValueMS, got.Lag.UMS, truth.LagMS)
	}
}

// Pushes of which nobody knows the speed: the two flashes tell it, and with it lag and trip place. A
// frame that only one flash lit is named and not read.
func TestDoubleFlashPushes(t *testing.T) {
	if testing.Short() {
		t.Skip("draws a run")
	}
	spec := doubleFlashRun()
	spec.Odd = []string{"one-flash"}
	got, truth := calibrateRun(t, spec)
	judgeSpeeds(t, got, truth)
	judgeLag(t, got, truth)
	for i, want := range truth.Frames {
		if f := got.Frames[i]; want.Odd == "one-flash" &&
			(f.Status != "refused" || !strings.HasPrefix(f.Reason, "twin-not-seen")) {
			t.Errorf("the frame of one flash: %s, %s", f.Status, f.Reason)
		}
	}
	if text, _ := got.warning("twin-not-seen"); !strings.Contains(text, "flash") {
		t.Errorf("no warning names the frame of one flash: %v", got.Warnings)
	}
}

// Drops of unknown height: the speed at the flash is carried back to the trip point.
func TestDoubleFlashDropsOfUnknownHeight(t *testing.T) {
	if testing.Short() {
		t.Skip("draws a run")
	}
	spec := doubleFlashRun()
	spec.Method, spec.Drops, spec.Speeds = "drop", []float64{0.05, 0.3}, nil
	spec.Travel, spec.Width, spec.Height = "down", 460, 1100
	spec.Shots, spec.Seed = 3, 42
	got, truth := calibrateRun(t, spec)
	judgeSpeeds(t, got, truth)
	judgeLag(t, got, truth)
}

// Drops of stated heights: the two flashes check them. One is stated wrongly.
func TestDoubleFlashChecksTheHeight(t *testing.T) {
	if testing.Short() {
		t.Skip("draws runs")
	}
	spec := doubleFlashRun()
	spec.Method, spec.Drops, spec.Speeds, spec.Unstated = "drop", []float64{0.08, 0.3}, nil, false
	spec.Travel, spec.Width, spec.Height = "down", 460, 1100
	spec.UDrop, spec.Seed, spec.Trip = 0.5e-3, 43, "line"
	dir := filepath.Join(t.TempDir(), "run")
	truth, err := runs.WriteRun(dir, spec)
	if err != nil {
		t.Fatal(err)
	}
	got := calibrateFolder(t, dir)
	judgeSpeeds(t, got, truth)
	if text, _ := got.warning("twin-disagrees"); text != "" {
		t.Errorf("heights stated rightly are doubted: %s", text)
	}
	restate(t, filepath.Join(dir, "shots.csv"), ",300,", ",270,")
	got = calibrateFolder(t, dir)
	text, frames := got.warning("twin-disagrees")
	if !strings.Contains(text, "drop_mm states 270") || len(frames) != spec.Shots {
		t.Errorf("a height stated 30 mm wrongly: %q, frames %v", text, frames)
	}
}
