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
	"slices"
	"strings"

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
	var all []outcome
	for k, name := range classes() {
		runs := drawn(*seed, k, *n, *verbose)
		hold(&s, name, runs)
		if all = append(all, runs...); name == "all three" {
			holdPlaces(&s, all)
		}
	}
	if err := s.Print(os.Stdout); err != nil {
		os.Exit(1)
	}
	os.Exit(s.Status())
}

// classes are what is done to the camera; behind those in which it is turned, one in which it is not.
func classes() []string { return []string{"pan", "tilt", "roll", "all three", "unmoved"} }

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
	us           []float64 // m, their stated standard uncertainties
	wrong        int       // frames whose front end was taken for another edge
}

// ratios are those of the errors to their uncertainties.
func (p part) ratios() (out []float64) {
	for i, e := range p.errors {
		out = append(out, e/p.us[i])
	}
	return out
}

// mean are the mean error and the root mean square of u.
func (p part) mean() (off, u float64) {
	for i, e := range p.errors {
		off, u = off+e/float64(len(p.errors)), math.Hypot(u, p.us[i]/math.Sqrt(float64(len(p.errors))))
	}
	return off, u
}

// grossly is how far off a frame, m, counts as one whose front end was taken for another edge: what
// the reader does before any backdrop, which has studies of its own.
const grossly = 0.5e-3

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
				claim.Spread(o.before.ratios()).Value, claim.Spread(o.then.ratios()).Value,
				1e3*claim.Quantile(1, claim.Sizes(o.then.errors)).Value, o.told)
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
		if math.Abs(off) > grossly {
			p.wrong++
			continue
		}
		p.errors, p.us = append(p.errors, off), append(p.us, shots[i].U)
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

// hold makes the claims of a class. What lenses and papers do, u allows for; these drawn pictures have
// neither, and so the ratio has no lower limit.
func hold(s *claim.Study, class string, runs []outcome) {
	var all part
	for _, o := range runs {
		if o.err != nil {
			s.Failed(class, o.err)
		}
		all.frames, all.kept, all.wrong = all.frames+o.then.frames, all.kept+o.then.kept, all.wrong+o.then.wrong
		all.errors, all.us = append(all.errors, o.then.errors...), append(all.us, o.then.us...)
	}
	s.Hold(class+": frames kept after the move", claim.Share(all.kept, all.frames), claim.AtLeast(0.95))
	s.LeftOut(class+": front end taken for another edge", all.wrong, all.kept, 0.05)
	s.Hold(class+": error/u of these, r.m.s.", claim.Spread(all.ratios()), claim.AtMost(1.3))
	s.Hold(class+": error, 95 in 100", claim.Quantile(0.95, claim.Sizes(all.errors)).In("mm", 1e-3), claim.AtMost(mostOff))
}

// mostOff is what the two planes may move against each other at most, mm: 0.3 degrees of pan and as
// much of roll carry the lens aside by 0.63 mm, of which a backdrop at 1.25 times the distance shows a
// fifth less.
const mostOff = 0.126

// holdPlaces claims that the trip place is carried as truly as is said: the mean error after the move
// less that before it, one for each run, over what the move adds to u.
func holdPlaces(s *claim.Study, runs []outcome) {
	var ratios []float64
	gone := 0
	for _, o := range runs {
		before, ub := o.before.mean()
		then, ut := o.then.mean()
		switch {
		case len(o.then.errors) == 0:
			ratios = append(ratios, math.NaN())
		case !slices.ContainsFunc(o.told, func(t string) bool { return strings.HasPrefix(t, "camera-moved") }):
			gone++ // a move too small to be named: its errors count above
		default:
			ratios = append(ratios, (then-before)/math.Sqrt(ut*ut-ub*ub))
		}
	}
	s.Hold("turned: error of the carried trip place over its u, r.m.s.", claim.Spread(ratios), claim.Between(0.7, 1.3).Within(0.4))
	s.LeftOut("turned: too little to be named", gone, len(runs), 0.15)
}
