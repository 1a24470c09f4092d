// Command readstudy measures how well rulers are read, on pictures with known truth drawn from a
// seed, for developers.
//
//	go run ./scripts/readstudy -seed 1                  # 45 frames a class, 420 without a ruler to be read
//	go run ./scripts/readstudy -seed 1 -class dim -v    # one class, a line a frame
//	go run ./scripts/readstudy -seed 1 -keep DIR        # and keeps the pictures that went wrong
//
// What is readable is decided by the scene before its picture is drawn (photo.Scene.Legible). Single
// pictures take the way of leadmark read: the file is opened, looked at and interpreted, told what
// a run's run.toml would say of the ruler. The decoys are whole runs through calib.Calibrate. A
// line a class:
//
//	read      readable frames read as part of a run; alone: without being told anything
//	wrong     frames read half a graduation or more off, or, told nothing, by another graduation
//	advance   median and 95th percentile of the advance's error, mm at 10 px/mm: the error times the
//	          picture's px/mm over 10
//	raw       the same in mm as it is
//	front     median error of the front end in the picture, px
//	error/u   spread of the advance's error over its stated standard uncertainty: 1.4826 medians, then
//	          root mean square; the second pair is for the front end's place along the ruler
//	bound     clean class alone: r.m.s. of the front end's error along the ruler over that of its Cramer-Rao bound
//
// A readable frame that is not read, and an uncertainty that is none, are in all of these, as the worst
// there is. Then what docs/method.md claims, each with its limit; status 1 where one is not kept. One
// class alone prints its line and claims nothing.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"runtime"
	"sort"
	"strings"
	"time"

	"leadmark/scripts/drawn"
	"leadmark/vision"
	"leadmark/vision/pixel/native"
	"leadmark/vision/synth/studies"
)

// options are what a study is asked for.
type options struct {
	seed       uint64
	frames     int // a class
	unreadable int
	class      string // "" for all; "none" for the unreadable alone
	verbose    bool
	keep       string // folder for pictures that went wrong; "" for none
	number     int    // the one picture to look at; -1 for all
}

func main() {
	var o options
	flag.Uint64Var(&o.seed, "seed", 0, "seed of the study; there is no usual one")
	flag.IntVar(&o.frames, "frames", 45, "frames a class")
	flag.IntVar(&o.unreadable, "unreadable", 420, "pictures without a ruler to be read")
	flag.StringVar(&o.class, "class", "", "this class alone: "+strings.Join(studies.Classes(), ", ")+", decoy, none")
	flag.BoolVar(&o.verbose, "v", false, "a line a frame")
	flag.StringVar(&o.keep, "keep", "", "folder for the pictures that went wrong")
	flag.IntVar(&o.number, "number", -1, "the picture of this number alone")
	flag.Parse()
	if o.seed == 0 {
		fmt.Fprintln(os.Stderr, "error: no seed\nhint: add -seed N; keep some seeds unseen until the work is done")
		os.Exit(2)
	}
	start := time.Now()
	s, err := study(o, os.Stdout)
	if err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
	s.print(os.Stdout)
	fmt.Printf("seed %d, %.0f s on %d processors\n", o.seed, time.Since(start).Seconds(), runtime.GOMAXPROCS(0))
	if o.class != "" || o.number >= 0 {
		return
	}
	c := s.claims(1)
	if err := c.Print(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
	os.Exit(c.Status())
}

// study draws and reads everything that is asked for.
func study(o options, log io.Writer) (results, error) {
	dir, err := os.MkdirTemp("", "readstudy")
	if err != nil {
		return results{}, err
	}
	defer os.RemoveAll(dir)
	w := &worker{o: o, dir: dir, drawn: &drawn.Rulers{Looker: vision.NewLooker(native.Library{}), Log: log,
		Verbose: o.verbose, Keep: o.keep}}
	var jobs []func() ([]outcome, error)
	for _, class := range studies.Classes() {
		if o.class != "" && o.class != class {
			continue
		}
		for i := range o.frames {
			if o.number < 0 || o.number == i {
				jobs = append(jobs, func() ([]outcome, error) { return w.single(class, uint64(i)) })
			}
		}
	}
	if o.class == "" || o.class == "decoy" {
		for i := range (o.frames + decoyFrames - 1) / decoyFrames {
			if o.number < 0 || o.number == i {
				jobs = append(jobs, func() ([]outcome, error) { return w.run(uint64(i)) })
			}
		}
	}
	if o.class == "" || o.class == "none" {
		for i := range o.unreadable {
			if o.number < 0 || o.number == i {
				jobs = append(jobs, func() ([]outcome, error) { return w.without(uint64(i)) })
			}
		}
	}
	return w.all(jobs)
}

// results are the outcomes by class.
type results map[string][]outcome

func (r results) classes() []string {
	var names []string
	for name := range r {
		names = append(names, name)
	}
	order := strings.Join(append(studies.Classes(), "decoy", "none"), " ")
	sort.Slice(names, func(a, b int) bool { return strings.Index(order, names[a]) < strings.Index(order, names[b]) })
	return names
}
