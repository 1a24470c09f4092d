package report

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"sync"

	"leadmark/calib"
	"leadmark/calib/store"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/cmd/leadmark/report/page"
	"leadmark/fit/parallel"
)

// writeFrames looks at every frame once, writes its annotated picture and keeps its thumbnail;
// those of a long run only until they stand on their page of cards, which is written as well.
func writeFrames(ctx context.Context, dir string, r calib.Result, names []string, o Options) ([]page.Picture, error) {
	out := make([]page.Picture, len(r.Frames))
	if o.Picture == nil {
		for i := range out {
			out[i].Why = "the report was made without pictures"
		}
		return out, nil
	}
	if err := store.MakeFolder(filepath.Join(dir, framesDir)); err != nil {
		return nil, fmt.Errorf("making the folder for the annotated frames: %w", err)
	}
	draw := func(ctx context.Context, i int) (err error) {
		out[i], err = writePicture(ctx, dir, r, i, names[i], o)
		return err
	}
	for from := 0; from < len(out); from += page.MostCards {
		part := span{from, min(from+page.MostCards, len(out))}
		if err := drawAll(ctx, part, r.Frames, draw, o); err != nil {
			return nil, err
		}
		if len(out) <= page.MostCards {
			continue
		}
		k := from / page.MostCards
		if err := replacePage(filepath.Join(dir, page.CardsFile(k)), page.Cards(r, out, k, o.making())); err != nil {
			return nil, err
		}
		for i := part.from; i < part.to; i++ {
			out[i].Thumb = nil
		}
	}
	return out, nil
}

// span is the frames from one up to, not with, another.
type span struct{ from, to int }

// drawAll draws frames, several at a time, and ends at the first error.
func drawAll(ctx context.Context, part span, frames []calib.FrameResult, draw func(context.Context, int) error,
	o Options) error {
	var mu sync.Mutex
	done := part.from
	return parallel.Try(ctx, part.to-part.from, o.Workers, func(ctx context.Context, k int) error {
		i := part.from + k
		if err := draw(ctx, i); err != nil {
			return err
		}
		mu.Lock()
		defer mu.Unlock()
		if done++; o.Progress != nil {
			o.Progress(done, len(frames), frames[i].Name)
		}
		return nil
	})
}

// writePicture makes both pictures of one frame from one look at it. Only a failure to write, or
// the end of ctx, is an error; a picture that cannot be had is a note on the page.
func writePicture(ctx context.Context, dir string, r calib.Result, i int, name string, o Options) (
	page.Picture, error) {
	f, trip := r.Frames[i], annotate.TripOf(r)
	clips, err := o.Picture(ctx, f.Frame)
	if ctx.Err() != nil {
		return page.Picture{}, ctx.Err()
	}
	if err == nil && (len(clips.Large.JPEG) == 0 || len(clips.Small.JPEG) == 0) {
		err = errors.New("there is none")
	}
	if err != nil {
		return page.Picture{Why: "its picture could not be shown: " + words.Err(err).Error()}, nil
	}
	if err := replaceOfMany(filepath.Join(dir, framesDir, name), annotate.Frame(clips.Large, f, trip),
		annotate.Sign); err != nil {
		return page.Picture{}, err
	}
	return page.Picture{File: framesDir + "/" + name, Thumb: annotate.MakeThumb(clips.Small, f, trip)}, nil
}
