package subject

import "leadmark/calib/plan/predict"

// Motion is how a subject moves after it has broken the beam.
type Motion string

// The motions of the file format.
const (
	Straight Motion = "straight" // flight, or a run on a plane: keeps its velocity
	Hop      Motion = "hop"      // free fall without drag after the trip
	Table    Motion = "table"    // follows a measured course
)

// Motions lists the motions there are.
func Motions() []string { return []string{string(Straight), string(Hop), string(Table)} }

// What of the body must be in focus, and the kinds there are.
const (
	FocusBody = "body" // all of it
	FocusNose = "nose" // the nose, where the eyes are
)

// Subject is an animal and its way through the beam. Lengths in metres, angles in radians.
type Subject struct {
	Digest                string // SHA-256 of subject.toml, the flags in its place and the course, hex
	Name                  string
	Length, Height, Width float64 // of the body: nose to tail, and across
	Motion                Motion
	Speed, SpeedSD        float64       // m/s, at the trip point
	SpeedKnown            predict.Known // m/s
	Elevation             float64       // heading above the horizontal, mean
	ElevationSD           float64
	ElevationKnown        predict.Known
	AzimuthSD             float64    // heading toward or away from the camera
	Exit                  [2]float64 // the opening's height, and its width along the view
	BehindNose            float64    // of the part that breaks the beam
	Course                Course     // of motion Table
	CourseFile            string     // where it was read, as the file names it
	FocusOn               string     // FocusBody or FocusNose

	Sources  map[string]string // where a value comes from, by its key
	Unstated []string          // keys that were left out and taken as 0
}
