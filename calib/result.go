package calib

import (
	"leadmark/fit"
	"leadmark/fit/design"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// FrameResult is what became of one frame of the run.
type FrameResult struct {
	frame.Frame
	Conditions Conditions
	Status     ruler.Status
	Reason     ruler.Reason
	Reading    ruler.Reading // zero unless Status is read
	Advance    float64       // m
	U          float64       // m, reading error alone
	FrontPX    ruler.Point
	PxPerM     float64 // at the trip line
	Speed      float64 // m/s at the trip point, measured by a twin flash; 0 where not
	SpeedU     float64 // m/s, shot by shot
	falls      bool    // accelerated by gravity
	Fit        fit.ShotFit
	Corrected  []string // what a person put right in it: CorrectedFront, CorrectedRuler, CorrectedLeftOut
}

// Warning is a doubt about the run and its remedy, with the frames it concerns.
type Warning struct {
	Code, Text string
	Frames     []string
}

// Result is the outcome of a calibration run.
type Result struct {
	Rig       string
	Run       Run
	RunSHA256 string // over run.toml, shots.csv and the digests of the frames
	Fit       fit.Result
	TripLine  *ruler.Line // true trip place on the track's two edges, in the picture
	CountLine *ruler.Line // the line advances are counted from; nil for hand readings
	Frames    []FrameResult
	Warnings  []Warning
	Plan      *design.Schedule // what to shoot to reach Run.Goal; nil where none was asked for

	counting Counting // what the advances are counted from

	// Propagation is the budget drawn by Monte Carlo; its parts are nil where the run is too large or tells no lag.
	Propagation fit.Propagation
}
