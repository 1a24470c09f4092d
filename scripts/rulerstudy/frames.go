package main

import (
	"context"
	"fmt"
	"image"
	"io"
	"os"
	"path/filepath"

	"leadmark/fit/parallel"
	"leadmark/scripts/drawn"
	"leadmark/vision"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
	"leadmark/vision/synth/camera"
	"leadmark/vision/synth/collage"
	"leadmark/vision/synth/crops"
)

// The classes beside those of package crops: frames made of photographs, pictures without a ruler.
const (
	photo = "photo"
	none  = "none"
)

func classes() []string { return append(crops.Classes(), photo, crops.WholeFrames, none) }

// worker draws and reads pictures.
type worker struct {
	o      options
	dir    string
	photos *collage.Set
	drawn  *drawn.Rulers
}

// study draws and reads everything that is asked for.
func study(o options, log io.Writer) (results, error) {
	dir, err := os.MkdirTemp("", "rulerstudy")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	w := &worker{o: o, dir: dir, drawn: &drawn.Rulers{Looker: vision.NewLooker(native.Library{}), Log: log,
		Verbose: o.verbose, Keep: o.keep}}
	var jobs []func() (outcome, error)
	for _, class := range o.classes() {
		n, do := o.frames, w.frame
		switch class {
		case none:
			n, do = o.without, w.without
		case crops.WholeFrames:
			n = o.whole
		case photo:
			if w.photos, err = collage.Load(o.photographs); err != nil {
				return nil, fmt.Errorf("%w\nhint: name the folder of the photographs by -photographs, "+
					"or other classes by -class", err)
			}
			do = w.collage
		}
		for i := range n {
			jobs = append(jobs, func() (outcome, error) { return do(class, uint64(i)) })
		}
	}
	out := make([]outcome, len(jobs))
	err = parallel.Try(context.Background(), len(jobs), 0, func(_ context.Context, i int) (err error) {
		out[i], err = jobs[i]()
		return err
	})
	r := results{}
	for _, x := range out {
		r[x.class] = append(r[x.class], x)
	}
	return r, err
}

// frame draws and reads one picture of a class.
func (w *worker) frame(class string, i uint64) (outcome, error) {
	f := crops.At(class, w.o.seed, i)
	return w.read(class, i, f.Text, f.Scene.Draw(), f.Scene.Camera, &f.Truth)
}

// collage makes and reads one of photographs.
func (w *worker) collage(class string, i uint64) (outcome, error) {
	f := w.photos.At(w.o.seed, i)
	return w.read(class, i, f.Text, f.Scene.Draw(), f.Scene.Camera, &f.Truth)
}

// without draws and reads one that has no ruler.
func (w *worker) without(class string, i uint64) (outcome, error) {
	p := crops.WithoutAt(w.o.seed, i)
	return w.read(class, i, p.Kind, p.Draw(), p.Camera, nil)
}

// read reads a picture, told what is true of its ruler (nil: it has none) and told nothing.
func (w *worker) read(class string, i uint64, text string, im *image.RGBA, c camera.Camera,
	t *crops.Truth) (outcome, error) {
	x := outcome{class: class, number: i, text: text}
	path := filepath.Join(w.dir, fmt.Sprintf("%s-%d.jpg", class, i))
	if err := write(path, im, c); err != nil {
		return x, err
	}
	s, err := w.drawn.Look(path)
	if err != nil {
		return x, err
	}
	alone := reading.Interpret(s, ruler.Spec{})
	if t == nil {
		x.without(alone)
	} else {
		x.judge(reading.Interpret(s, told(t)), alone, t)
	}
	return x, w.drawn.Done(x, x.bad(), path)
}

func write(path string, im *image.RGBA, c camera.Camera) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := c.Encode(f, im); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// told is what run.toml would say.
func told(t *crops.Truth) ruler.Spec {
	first := &t.Scales[0]
	front := first.FrontMM / 1000
	return ruler.Spec{Graduation: first.StepMM / 1000, Front: &front,
		Toward: ruler.Point{X: t.Toward.X, Y: t.Toward.Y}}
}
