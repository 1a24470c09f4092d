// Command turnstudy measures how well the frames of a run are kept whose camera was turned about its
// tripod's head, on runs drawn from a seed, for developers.
//
//	go run ./scripts/turnstudy -seed 1
//
// In each class the camera is turned by up to 0.3 degrees about a point 60 mm behind and below its
// lens after half of the frames; where the track and the backdrop lie is drawn anew for each run.
// Every frame can be read: one that is not is lost. The status is 1 where a claim is not kept.
package main

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"

	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/fit/parallel"
	"leadmark/scripts/claim"
	"leadmark/vision"
	"leadmark/vision/frame"
	"leadmark/vision/pixel/native"
	"leadmark/vision/ruler"
	"leadmark/vision/synth/knock"
)

// most is how far the camera is turned, rad.
const most = 0.3 * math.Pi / 180

func main() {
	seed := flag.Uint64("seed", 0, "seed of the study; there is no usual one")
	n := flag.Int("runs", 12, "runs a class")
	verbose := flag.Bool("v", false, "a line a run")
	flag.Parse()
	if *seed == 0 {
		fmt.Fprintln(os.Stderr, "error: no seed\nhint: add -seed N; keep some seeds unseen until the work is done")
		os.Exit(2)
	}
	var s claim.Study
	for k, name := range []string{"pan", "tilt", "roll", "all three", "unmoved"} {
		hold(&s, name, drawn(*seed, k, *n, *verbose))
	}
	if err := s.Print(os.Stdout); err != nil {
		os.Exit(1)
	}
	os.Exit(s.Status())
}

// outcome is what became of a run's frames.
type outcome struct {
	spec         knock.Spec
	before, then part
	told         []string
	err          error
}

// part is the frames on one side of the move.
type part struct {
	frames, kept int
	errors       []float64 // m
	ratios       []float64 // of the error to u
}

// drawn are the runs of a class.
func drawn(seed uint64, class, n int, verbose bool) []outcome {
	out := make([]outcome, n)
	parallel.Each(n, runtime.NumCPU(), func(i int) {
		rnd := rand.New(rand.NewPCG(seed, uint64(1000*class+i)))
		turn := func(is bool) float64 {
			if v := most * (2*rnd.Float64() - 1); is {
				return v
			}
			return 0
		}
		m := knock.Move{Behind: 0.06, Below: 0.06, Pan: turn(class == 0 || class == 3),
			Tilt: turn(class == 1 || class == 3), Roll: turn(class == 2 || class == 3)}
		track := 0.42 + 0.16*rnd.Float64()
		o := outcome{spec: knock.Spec{Seed: rnd.Uint64(), Move: m, After: 6, Frames: 12, Track: track,
			Backdrop: track * (1.05 + 0.2*rnd.Float64()), Contrast: 0.02 + 0.06*rnd.Float64()}}
		o.run()
		out[i] = o
		if verbose {
			fmt.Printf("%d/%d pan %.2f tilt %.2f roll %.2f mrad, track %.2f, backdrop %.2f m, contrast %.3f: kept %d of "+
				"%d, error/u %.2f before, %.2f after, worst %.3f mm; %v\n", class, i, 1e3*m.Pan, 1e3*m.Tilt, 1e3*m.Roll,
				o.spec.Track, o.spec.Backdrop, o.spec.Contrast, o.then.kept, o.then.frames,
				claim.Spread(o.before.ratios).Value, claim.Spread(o.then.ratios).Value,
				1e3*claim.Quantile(1, o.then.errors).Value, o.told)
		}
	})
	return out
}

// run draws a run and reads it.
func (o *outcome) run() {
	dir, err := os.MkdirTemp("", "turnstudy")
	if err != nil {
		o.err = err
		return
	}
	defer os.RemoveAll(dir)
	truth, err := knock.Write(filepath.Join(dir, "run"), o.spec)
	if err != nil {
		o.err = err
		return
	}
	shots, err := o.read(filepath.Join(dir, "run"))
	if err != nil {
		o.err = err
		return
	}
	for i, t := range truth {
		p := &o.before
		if t.Moved {
			p = &o.then
		}
		if p.frames++; shots[i].Status != ruler.StatusRead {
			continue
		}
		p.kept++
		off := shots[i].Advance - t.Advance
		p.errors, p.ratios = append(p.errors, math.Abs(off)), append(p.ratios, off/shots[i].U)
	}
}

// read reads a run's folder as calibrate does.
func (o *outcome) read(dir string) ([]read.Shot, error) {
	run, err := runfile.Load(dir, runfile.Overrides{})
	if err != nil {
		return nil, err
	}
	frames, refused, err := frame.List(context.Background(), dir)
	if err != nil {
		return nil, err
	}
	g, err := read.All(context.Background(), run, read.Folder{Frames: frames, Refused: refused},
		read.Options{Look: vision.NewLooker(native.Library{}).Look, Shift: vision.Shift, Workers: 1})
	if err != nil {
		return nil, err
	}
	line, err := g.Line()
	if err != nil {
		return nil, err
	}
	shots := g.Advances(line)
	for _, w := range g.Warnings(shots) {
		o.told = append(o.told, w.Code+"/"+w.Case)
	}
	return shots, nil
}

// hold makes the claims of a class.
func hold(s *claim.Study, class string, runs []outcome) {
	var all part
	for _, o := range runs {
		if o.err != nil {
			s.Failed(class, o.err)
		}
		all.frames, all.kept = all.frames+o.then.frames, all.kept+o.then.kept
		all.errors, all.ratios = append(all.errors, o.then.errors...), append(all.ratios, o.then.ratios...)
	}
	s.Hold(class+": frames kept after the move", claim.Share(all.kept, all.frames), claim.AtLeast(0.95))
	s.Hold(class+": error/u of these, r.m.s.", claim.Spread(all.ratios), claim.Between(0.7, 1.3))
	s.Hold(class+": error, 95 in 100", claim.Quantile(0.95, all.errors).In("mm", 1e-3), claim.AtMost(0.1))
}
