package calib

import (
	"context"

	"leadmark/frame"
	"leadmark/ruler"
)

// LookFunc finds rulers in one picture. An error ends the run; what is wrong with the one
// picture is said in the Sighting.
type LookFunc func(ctx context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error)

// Folder is what lies in a run's folder.
type Folder struct {
	Frames  []frame.Frame
	Refused []frame.Refusal
}

// Options are how a run is read.
type Options struct {
	Look     LookFunc
	Progress func(done, total int, name string) // may be nil
	Workers  int                                // 0: one for each processor
}
