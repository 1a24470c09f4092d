package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"

	"leadmark/calib"
	"leadmark/calib/input"
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/vision"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/synth/looks"
	"leadmark/vision/synth/photo"
	"leadmark/vision/synth/runs"
)

// decoyFrames is how many frames a run with a still ruler beside the moving one has.
const decoyFrames = 8

// decoyRun is a run with a second, still ruler in the scene.
func decoyRun(seed, number uint64) runs.RunSpec {
	rnd := rand.New(rand.NewPCG(seed, 7000+number))
	rulers := []looks.Look{looks.WhitePlastic(), looks.BlackPlastic(), looks.PaperStrip(), looks.Steel(),
		looks.InchRule(16), looks.TwoScales()}
	kinds := []photo.BackdropKind{photo.Cloth, photo.Card, photo.Soil, photo.Planks}
	deg := math.Pi / 180
	r := runs.RunSpec{Name: fmt.Sprintf("decoy-%d", number), Method: "push", Speeds: []float64{0.8, 1.6},
		Shots: decoyFrames / 2, USpeed: 0.01,
		Lag: 0.02 + 0.01*rnd.Float64(), Spread: 0.5e-3,
		Travel: []string{"right", "left", "up", "down"}[rnd.IntN(4)], Trip: "line",
		Tilt: 8 * deg * (2*rnd.Float64() - 1), Yaw: 5 * deg * (2*rnd.Float64() - 1),
		Roll: 5 * deg * (2*rnd.Float64() - 1), Loose: 0.3,
		Look: rulers[rnd.IntN(len(rulers))], Backdrop: photo.Backdrop{Kind: kinds[rnd.IntN(len(kinds))]}, Decoy: true,
		Width: 2000, Height: 1400, T01: 100e-6, Softness: 0.6 + 0.5*rnd.Float64(), FullWell: 4000 + 10000*rnd.Float64(),
		K1: -0.02, Quality: 88, Seed: int64(seed*1000 + number)}
	if r.Travel == "up" || r.Travel == "down" {
		r.Width, r.Height = r.Height, r.Width
	}
	return r
}

// run draws and calibrates one run.
func (w *worker) run(i uint64) ([]outcome, error) {
	spec := decoyRun(w.o.seed, i)
	dir := filepath.Join(w.dir, spec.Name)
	defer os.RemoveAll(dir)
	truth, err := runs.WriteRun(dir, spec)
	if err != nil {
		return nil, err
	}
	result, err := calibrate(dir)
	if err != nil {
		return nil, err
	}
	by := map[string]calib.FrameResult{}
	for _, f := range result.Frames {
		by[f.Name] = f
	}
	var out []outcome
	for _, t := range truth.Frames {
		x := unread("decoy", fmt.Sprintf("%d %s: %s, %s, %s, %.1f px/mm", i, t.File, spec.Look.Name,
			spec.Backdrop.Kind, spec.Travel, t.PxPerMM), t.PxPerMM)
		x.readable = t.Readable
		x.hold(by[t.File], t, spec)
		out = append(out, x)
		w.drawn.Tell(x, x.wrong || x.read != x.readable)
	}
	return out, nil
}

// hold holds a frame of a result against the truth.
func (x *outcome) hold(f calib.FrameResult, t runs.FrameTruth, spec runs.RunSpec) {
	if f.Status != ruler.StatusRead {
		x.reason = f.Reason.Code
		return
	}
	x.read = true
	if !t.Readable {
		return
	}
	x.advance, x.u = 1e3*f.Advance-t.AtLineMM, 1e3*f.U
	dx, dy := f.FrontPX.X-t.FrontPX[0], f.FrontPX.Y-t.FrontPX[1]
	first, last := t.Marks[0].PX, t.Marks[len(t.Marks)-1].PX
	ax, ay := last[0]-first[0], last[1]-first[1]
	x.front, x.along = math.Hypot(dx, dy), (dx*ax+dy*ay)/math.Hypot(ax, ay)
	if f.Reading.Front != nil {
		x.frontU = f.Reading.Front.U
	}
	if grad := 1e3 * spec.Look.Graduation(); math.Abs(x.advance) > grad/2 {
		x.wrong, x.reason = true, fmt.Sprintf("off by %.1f graduations", x.advance/grad)
	}
}

// calibrate reads a run's folder as the command does.
func calibrate(dir string) (calib.Result, error) {
	run, err := runfile.Load(dir, runfile.Overrides{})
	if err != nil {
		return calib.Result{}, err
	}
	frames, refused, err := frame.List(context.Background(), dir)
	if err != nil {
		return calib.Result{}, err
	}
	r, err := calib.Calibrate(context.Background(), run, read.Folder{Frames: frames, Refused: refused},
		read.Options{Look: vision.NewLooker(native.Library{}).Look, Shift: vision.Shift})
	if none := (*input.NoResult)(nil); errors.As(err, &none) {
		err = nil // the frames count
	}
	return r, err
}
