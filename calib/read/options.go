package read

import (
	"context"
	"errors"

	"leadmark/calib/read/cache"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// LookFunc finds rulers in one picture, that whose bytes have the frame's digest. What is wrong
// with the picture is said in the Sighting. An error ends the run, but for a *frame.Refusal: then
// the file does not hold that picture, and the frame is refused.
type LookFunc func(ctx context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error)

// at looks at a frame.
func (look LookFunc) at(ctx context.Context, f frame.Frame, h ruler.Hint) (ruler.Sighting, error) {
	s, err := look(ctx, f, h)
	var bad *frame.Refusal
	if errors.As(err, &bad) {
		return ruler.Sighting{Width: f.Width, Height: f.Height, Refusal: bad.Note}, nil
	}
	return s, err
}

// ShiftFunc says how far the scene of b lies from that of a; ok is false where they cannot be
// compared.
type ShiftFunc func(a, b ruler.Backdrop) (s ruler.Shift, ok bool)

// Folder is what lies in a run's folder.
type Folder struct {
	Frames  []frame.Frame
	Refused []frame.Refusal
}

// Options are how a run is read.
type Options struct {
	Look     LookFunc
	Shift    ShiftFunc                          // nil: moves of the camera are not looked for
	Progress func(done, total int, name string) // may be nil
	Workers  int                                // 0: one for each processor
	Cache    *cache.Cache                       // what earlier looks settled; may be nil
}
