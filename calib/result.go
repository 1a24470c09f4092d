package calib

import (
	"slices"

	"leadmark/fit/design"

	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/fit"
	"leadmark/vision/ruler"
)

// FrameResult is what became of one frame of the run: what was read in it, and what the fit says of
// it.
type FrameResult struct {
	read.Shot
	Speed  float64 // m/s at the trip point, measured by two flashes; 0 where not
	SpeedU float64 // m/s, shot by shot
	Fit    fit.ShotFit
}

// unfitted are shots of which no fit says anything.
func unfitted(shots []read.Shot) []FrameResult {
	out := slices.Grow([]FrameResult(nil), len(shots))
	for _, s := range shots {
		out = append(out, FrameResult{Shot: s})
	}
	return out
}

// Warning is a doubt about the run and its remedy, with the frames it concerns.
type Warning = read.Warning

// Result is the outcome of a calibration run.
type Result struct {
	Rig       string
	Run       runfile.Run
	RunSHA256 string // over run.toml, shots.csv and the digests of the frames
	Fit       fit.Result
	TripLine  *ruler.Line // true trip place on the track's two edges, in the picture
	CountLine *ruler.Line // the line advances are counted from; nil for hand readings
	Frames    []FrameResult
	Warnings  []Warning
	Plan      *design.Schedule // what to shoot to reach Run.Goal; nil where none was asked for

	counting Counting // what the advances are counted from

	// Propagation is the budget drawn by Monte Carlo; its parts are nil where the run is too large
	// or tells no lag.
	Propagation fit.Propagation
}

// Counting says what the advances of a run are counted from.
type Counting struct {
	Line  *ruler.Line // in the picture; nil for readings made by hand
	TripU *float64    // m, standard uncertainty of the trip place along the track; nil where the place is unknown
}
