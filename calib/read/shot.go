package read

import (
	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// Shot is one frame of a run, what was done and what became of it.
type Shot struct {
	frame.Frame
	Conditions runfile.Conditions
	Status     ruler.Status // empty where it is still to be read
	Reason     note.Note
	Reading    ruler.Reading // zero unless Status is read
	Advance    float64       // m
	U          float64       // m, reading error alone
	FrontPX    ruler.Point
	PxPerM     float64 // at the trip line
	// Carried is how the frame's scene lies against that of most frames; nil where the camera stood as
	// for those. Places are those of the frame itself.
	Carried   *ruler.Shift
	Corrected []string // what a person put right in it: runfile.CorrectedFront, CorrectedRuler, CorrectedLeftOut
}

// LeaveOut says why a frame is no shot of the run.
func (s *Shot) LeaveOut(why note.Note) { s.Status, s.Reason = ruler.StatusLeftOut, why }

// toRead lists the shots that are to be read.
func toRead(shots []Shot) (at []int) {
	for i, s := range shots {
		if s.Status == "" {
			at = append(at, i)
		}
	}
	return at
}

// Warning is a doubt about the run and its remedy, with the frames it concerns.
type Warning struct {
	note.Note
	Frames []string
}
