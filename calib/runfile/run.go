package runfile

import "leadmark/vision/ruler"

// Method is how the ruler was moved through the beam.
type Method string

// The two methods of formats.md.
const (
	Drop Method = "drop"
	Push Method = "push"
)

// Travel is the way the front end moves in the picture as displayed.
type Travel string

// The four ways of formats.md.
const (
	Down  Travel = "down"
	Up    Travel = "up"
	Left  Travel = "left"
	Right Travel = "right"
)

// RulerSpec is what run.toml says of the ruler.
type RulerSpec struct {
	Graduation float64  // m; 0 where not stated
	Front      *float64 // m, reading at the front end; nil where not stated
	TwinFlash  float64  // s between two flashes of one frame; 0 for one flash
	Band       bool     // the mark to find is a bold band, not the front end
	BandAt     float64  // m, reading at the band's leading edge
}

// TripSpec is what run.toml says of the place where the beam is tripped.
type TripSpec struct {
	Line  *ruler.Line // in the picture as displayed
	Still string      // or a frame with the front end resting there
	U     float64     // m, standard uncertainty along the track
}

// Conditions say how one shot was made. SI units.
type Conditions struct {
	Drop    float64 // m; 0 where not stated
	Speed   float64 // m/s; 0 where not stated
	Delay   float64 // s
	Gravity float64 // m/s^2
	Group   string

	DropU, DropShotU, DropCommonU float64 // m
	SpeedU                        float64 // m/s
	GravityU                      float64 // m/s^2
	SpeedRepeat                   float64 // relative
}

// ShotEntry is one line of shots.csv, its empty cells filled from run.toml.
type ShotEntry struct {
	Frame string
	Line  int // of shots.csv
	Use   bool
	Why   string // why it is not used
	Conditions
	Stated Stated // which of them the line itself states
}

// Run is a run as its folder describes it, checked.
type Run struct {
	Dir      string
	Rig      string
	Method   Method
	Travel   Travel
	Ruler    RulerSpec
	Trip     *TripSpec // nil where nothing is stated
	Defaults Conditions
	Shots    []ShotEntry // nil where there is no shots.csv
	HasShots bool
	Digest   string // SHA-256 over run.toml, shots.csv and corrections.toml
	// what the command line said, by key; for the document alone
	Settings map[string]string

	Corrections Corrections // what a person put right; run.toml's trip place is replaced by theirs already

	// Limits and Goal are not of the folder: whoever loads the run may set them.
	Limits Limits
	// Earlier is likewise, and planned by until there are shots.
	Earlier Earlier
	Goal    Goal
}

// Known reports whether the speed at the trip point follows from the conditions.
func (c Conditions) Known() bool { return c.Drop > 0 || c.Speed > 0 }

// Listed are the lines of shots.csv by their frames.
func (r Run) Listed() map[string]ShotEntry {
	listed := make(map[string]ShotEntry, len(r.Shots))
	for _, s := range r.Shots {
		listed[s.Frame] = s
	}
	return listed
}

// Direction is the way of travel as a unit vector of the picture (y down).
func (t Travel) Direction() ruler.Point {
	switch t {
	case Down:
		return ruler.Point{Y: 1}
	case Up:
		return ruler.Point{Y: -1}
	case Left:
		return ruler.Point{X: -1}
	case Right:
		return ruler.Point{X: 1}
	}
	return ruler.Point{}
}
