package report

import (
	"context"
	"time"

	"leadmark/cmd/leadmark/report/page"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// Options are what a report needs besides the result.
type Options struct {
	// Picture returns a frame's clips. Where it is nil or fails, the frame is shown without its
	// picture and the page says so.
	Picture  func(ctx context.Context, f frame.Frame) (ruler.Clips, error)
	Progress func(done, total int, name string) // after each annotated frame; may be nil
	Made     time.Time                          // when; left out where zero
	Version  string                             // of the program
	Program  string                             // tells two builds of one version apart; may be empty
	Workers  int                                // pictures worked on at once; 0: one for each processor
}

func (o Options) making() page.Making {
	return page.Making{Version: o.Version, Made: o.Made, Pictures: o.Picture != nil}
}
