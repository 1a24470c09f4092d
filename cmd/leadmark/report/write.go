package report

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/cmd/leadmark/report/annotate"
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

// Write makes result.json, readings.csv, report.html and the annotated frames in dir, which it
// creates where there is none. The cards of a run of more than 200 frames go to files of their own,
// cards-1.html and on. Each file is replaced in one step. A file of one of these names that was not
// written by Write is left alone, and Write returns ErrNotOurs before writing anything. Where dir
// holds the same report already, nothing is written. Annotated frames and cards that an earlier run
// left in dir are taken away once all is written.
func Write(ctx context.Context, dir string, r calib.Result, o Options) error {
	names := pictureNames(r.Frames)
	if err := checkAll(dir, names, o); err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("making the folder for the report: %w", err)
	}
	result, err := record.Encode(r)
	if err != nil {
		return err
	}
	stamp := stampOf(r, result, o)
	if upToDate(dir, stamp, result, names, o) {
		return nil
	}
	readings, err := readingsCSV(r)
	if err != nil {
		return fmt.Errorf("writing %s: %w", readingsFile, err)
	}
	pictures, err := writeFrames(ctx, dir, r, names, o)
	if err != nil {
		return err
	}
	page := viewOf(r, pictures, o)
	page.Stamp = stamp
	if err := errors.Join(
		replace(filepath.Join(dir, resultFile), result, resultSign),
		replace(filepath.Join(dir, readingsFile), readings, readingsSign),
		replacePage(filepath.Join(dir, pageFile), "page.html", page),
	); err != nil {
		return err
	}
	return sweep(dir, names, len(page.CardPages), o)
}

// What tells a file of ours from anyone else's.
const (
	resultSign = `"schema": "leadmark/result/`
	// Columns were added at the end since.
	readingsSign = `file,status,reason,advance_mm,u_mm,front_x_px,front_y_px`
	pageSign     = `<meta name="generator" content="leadmark`
)

// checkAll looks before anything is written.
func checkAll(dir string, names []string, o Options) error {
	errs := []error{
		checkOurs(filepath.Join(dir, resultFile), resultSign),
		checkOurs(filepath.Join(dir, readingsFile), readingsSign),
		checkOurs(filepath.Join(dir, pageFile), pageSign),
	}
	for k := range cardPages(len(names), o.Picture != nil) {
		errs = append(errs, checkOurs(filepath.Join(dir, cardsFile(k)), pageSign))
	}
	if o.Picture != nil {
		errs = append(errs, checkNoLink(filepath.Join(dir, framesDir)))
		for _, n := range names {
			errs = append(errs, checkOurs(filepath.Join(dir, framesDir, n), annotate.Sign))
		}
	}
	return errors.Join(errs...)
}

// picture is what the page shows of one frame.
type picture struct {
	file  string          // of the annotated frame, relative to the page; "" where there is none
	thumb *annotate.Thumb // nil where there is none
	why   string          // why there is no picture
}

// writeFrames looks at every frame once, writes its annotated picture and keeps its thumbnail;
// those of a long run only until they stand on their page of cards, which is written as well.
func writeFrames(ctx context.Context, dir string, r calib.Result, names []string, o Options) ([]picture, error) {
	out := make([]picture, len(r.Frames))
	if o.Picture == nil {
		for i := range out {
			out[i].why = "the report was made without pictures"
		}
		return out, nil
	}
	if err := os.MkdirAll(filepath.Join(dir, framesDir), 0o755); err != nil {
		return nil, fmt.Errorf("making the folder for the annotated frames: %w", err)
	}
	draw := func(ctx context.Context, i int) (err error) {
		out[i], err = writePicture(ctx, dir, r, i, names[i], o)
		return err
	}
	for from := 0; from < len(out); from += mostCards {
		part := span{from, min(from+mostCards, len(out))}
		if err := drawAll(ctx, part, r.Frames, draw, o); err != nil {
			return nil, err
		}
		if len(out) <= mostCards {
			continue
		}
		k := from / mostCards
		if err := replacePage(filepath.Join(dir, cardsFile(k)), "cards.html", cardsPage(r, out, k, o)); err != nil {
			return nil, err
		}
		for i := part.from; i < part.to; i++ {
			out[i].thumb = nil
		}
	}
	return out, nil
}

// span is the frames from one up to, not with, another.
type span struct{ from, to int }

// drawAll draws frames, several at a time, and ends at the first error.
func drawAll(ctx context.Context, part span, frames []calib.FrameResult, draw func(context.Context, int) error,
	o Options) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	jobs := make(chan int)
	var wg sync.WaitGroup
	var mu sync.Mutex
	done := part.from
	for range workers(o) {
		wg.Go(func() {
			for i := range jobs {
				if err := draw(ctx, i); err != nil {
					stop(err)
					continue
				}
				mu.Lock()
				done++
				if o.Progress != nil {
					o.Progress(done, len(frames), frames[i].Name)
				}
				mu.Unlock()
			}
		})
	}
	for i := part.from; i < part.to; i++ {
		select {
		case jobs <- i:
		case <-ctx.Done():
		}
	}
	close(jobs)
	wg.Wait()
	return context.Cause(ctx)
}

func workers(o Options) int {
	if o.Workers > 0 {
		return o.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// writePicture makes both pictures of one frame from one look at it. Only a failure to write, or
// the end of ctx, is an error; a picture that cannot be had is a note on the page.
func writePicture(ctx context.Context, dir string, r calib.Result, i int, name string, o Options) (picture, error) {
	f, trip := r.Frames[i], annotate.TripOf(r)
	clips, err := o.Picture(ctx, f.Frame)
	if ctx.Err() != nil {
		return picture{}, ctx.Err()
	}
	if err == nil && (len(clips.Large.JPEG) == 0 || len(clips.Small.JPEG) == 0) {
		err = errors.New("there is none")
	}
	if err != nil {
		return picture{why: "its picture could not be shown: " + err.Error()}, nil
	}
	if err := replaceUnsynced(filepath.Join(dir, framesDir, name), annotate.Frame(clips.Large, f, trip),
		annotate.Sign); err != nil {
		return picture{}, err
	}
	return picture{file: framesDir + "/" + name, thumb: annotate.MakeThumb(clips.Small, f, trip)}, nil
}
