package main

import (
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"

	"leadmark/fit/parallel"
	"leadmark/scripts/drawn"
	"leadmark/vision/ruler"
	"leadmark/vision/ruler/reading"
	"leadmark/vision/synth/photo"
	"leadmark/vision/synth/studies"
)

// outcome is what became of one frame. Errors are signed; they are NaN where there is no reading.
type outcome struct {
	class, text string
	readable    bool
	read, alone bool // as part of a run; told nothing
	wrong       bool
	wrongAlone  bool // told nothing, by another graduation
	unsure      bool // likewise, and said to be unsure
	reason      string
	perMM       float64
	advance, u  float64 // mm: error and standard uncertainty
	front       float64 // px: distance of the front end from the truth
	along       float64 // px: of its edge from there along the ruler, signed
	frontU      float64 // px
	bound       float64 // px; 0 where there is none
}

// unread is the outcome of a frame as long as nothing was read in it.
func unread(class, text string, perMM float64) outcome {
	nothing := math.NaN()
	return outcome{class: class, text: text, perMM: perMM, advance: nothing, u: nothing, front: nothing,
		along: nothing, frontU: nothing}
}

// held is an error over its stated standard uncertainty; NaN, which counts as the worst, where none is
// stated or it is none.
func held(off, u float64) float64 {
	if !(u > 0) || math.IsInf(u, 0) {
		return math.NaN()
	}
	return off / u
}

// worker draws and reads pictures.
type worker struct {
	o     options
	dir   string
	drawn *drawn.Rulers
}

// all does the jobs, one a processor at a time, and sorts what comes out by class.
func (w *worker) all(jobs []func() ([]outcome, error)) (results, error) {
	out := make([][]outcome, len(jobs))
	err := parallel.Try(context.Background(), len(jobs), 0, func(_ context.Context, i int) (err error) {
		out[i], err = jobs[i]()
		return err
	})
	if err != nil {
		return nil, err
	}
	r := results{}
	for _, list := range out {
		for _, x := range list {
			r[x.class] = append(r[x.class], x)
		}
	}
	return r, nil
}

// single draws and reads one picture of a class.
func (w *worker) single(class string, i uint64) ([]outcome, error) {
	f := studies.At(class, w.o.seed, i)
	im, truth := photo.Render(f.Scene)
	path, err := w.write(fmt.Sprintf("%s-%d", class, i), im, f.Quality)
	if err != nil {
		return nil, err
	}
	x := unread(class, fmt.Sprintf("%d: %s", i, f.Text), truth.PxPerMM)
	x.readable = true
	if class == "clean" {
		x.bound = f.Scene.EndBound(truth)
	}
	s, err := w.drawn.Look(path)
	if err != nil { // a picture that is to be read is not refused
		x.reason = err.Error()
		return []outcome{x}, w.drawn.Done(x, x.bad(), path)
	}
	alone := reading.Interpret(s, ruler.Spec{})
	x.alone = alone.Status == ruler.StatusRead
	if x.alone && !rightScale(alone, &f.Scene) {
		x.unsure = unsure(alone)
		x.wrongAlone, x.reason = !x.unsure, fmt.Sprintf("alone: graduation %.4g mm; ", 1e3*alone.Graduation)
	}
	x.judge(reading.Interpret(s, specOf(&f.Scene)), &f.Scene, truth)
	return []outcome{x}, w.drawn.Done(x, x.bad(), path)
}

// without draws and reads one picture that has no ruler to be read.
func (w *worker) without(i uint64) ([]outcome, error) {
	p := studies.UnreadableAt(w.o.seed, i)
	path, err := w.write(fmt.Sprintf("none-%d", i), p.Draw(), 88)
	if err != nil {
		return nil, err
	}
	x := unread("none", fmt.Sprintf("%d: %s", i, p.Kind), math.NaN())
	s, err := w.drawn.Look(path)
	if err != nil { // a whole picture is looked at, whatever it shows
		return nil, err
	}
	r := reading.Interpret(s, ruler.Spec{})
	x.read, x.reason = r.Status == ruler.StatusRead, r.Reason.Code
	if x.read {
		x.reason = fmt.Sprintf("read: %.4g mm, %d lines", 1e3*r.Graduation, r.Graduations.Len())
	}
	return []outcome{x}, w.drawn.Done(x, x.bad(), path)
}

// specOf is what run.toml would say of a scene's ruler.
func specOf(s *photo.Scene) ruler.Spec {
	front := s.Look.Front()
	spec := ruler.Spec{Graduation: s.Look.Graduation(), Front: &front,
		Toward: map[string]ruler.Point{"down": {Y: 1}, "up": {Y: -1}, "left": {X: -1}, "right": {X: 1}}[s.Track.Travel]}
	if b := s.Look.Band; b != nil {
		spec.Band, spec.BandAt = true, b.At
	}
	return spec
}

// rightScale says whether a reading's lengths are right, to 3 % on its middle graduation.
func rightScale(r ruler.Reading, s *photo.Scene) bool {
	g := r.Graduations.At(r.Graduations.Len() / 2)
	return math.Abs(r.Scale.PxPerM(g.Reading)/s.PxPerM(g.At)-1) < 0.03
}

// unsure says whether a reading leaves its graduation open.
func unsure(r ruler.Reading) bool {
	for _, w := range r.Warnings {
		if w.Code == "graduation-unsure" {
			return true
		}
	}
	return false
}

// judge holds a reading against the truth.
func (x *outcome) judge(r ruler.Reading, s *photo.Scene, t photo.Truth) {
	if r.Status != ruler.StatusRead || r.Front == nil {
		x.reason += r.Reason.Code
		return
	}
	at, u, _, ok := r.Scale.At(s.TripLine())
	if !ok {
		x.reason += "off-track"
		return
	}
	x.read = true
	front := s.Look.Front()
	x.advance, x.u = 1e3*(at-front)-t.AtLineMM, 1e3*u
	off := r.Front.At.Sub(t.FrontPX)
	x.front, x.frontU = math.Hypot(off.X, off.Y), r.Front.U
	x.along = alongTruth(r.Front.Line, t)
	if grad := 1e3 * s.Look.Graduation(); math.Abs(x.advance) > grad/2 {
		x.wrong = true
		x.reason += fmt.Sprintf("off by %.1f graduations", x.advance/grad)
	}
}

// alongTruth is how far from the true front end a line crosses the true axis of the ruler, px.
func alongTruth(l ruler.Line, t photo.Truth) float64 {
	first, last := t.Graduations[0].PX, t.Graduations[len(t.Graduations)-1].PX
	dx, dy := last.X-first.X, last.Y-first.Y
	long := math.Hypot(dx, dy)
	dx, dy = dx/long, dy/long
	// The front end plus k along the axis lies on the line where the vector product with it is nil.
	lx, ly := l.B.X-l.A.X, l.B.Y-l.A.Y
	return (lx*(l.A.Y-t.FrontPX.Y) - ly*(l.A.X-t.FrontPX.X)) / (lx*dy - ly*dx)
}

// write encodes a picture as JPEG of a quality, or as PNG where that is 0.
func (w *worker) write(name string, im image.Image, quality int) (string, error) {
	path := filepath.Join(w.dir, name+".jpg")
	if quality == 0 {
		path = filepath.Join(w.dir, name+".png")
	}
	f, err := os.Create(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	if quality == 0 {
		e := png.Encoder{CompressionLevel: png.BestSpeed}
		return path, e.Encode(f, im)
	}
	return path, jpeg.Encode(f, im, &jpeg.Options{Quality: quality})
}

// bad says whether a frame went wrong.
func (x outcome) bad() bool {
	return x.wrong || x.wrongAlone || x.read != x.readable || x.readable && !x.alone
}

func (x outcome) String() string {
	what := "ok   "
	switch {
	case x.wrong, x.wrongAlone:
		what = "WRONG"
	case x.read && !x.readable:
		what = "FALSE"
	case !x.read && x.readable:
		what = "LOST "
	case x.readable && !x.alone:
		what = "alone"
	}
	return fmt.Sprintf("%s %s %s; %s; advance %+.3f (u %.3f) mm, front %.2f px, along %+.4f (u %.4f, bound %.4f)",
		what, x.class, x.text, x.reason,
		x.advance, x.u, x.front, x.along, x.frontU, x.bound)
}
