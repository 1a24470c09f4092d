// Command rulerstudy measures how well rulers are read on pictures as cameras take them, drawn from
// a seed with what spoils them in life, and on pictures without a ruler, for developers.
//
//	go run ./scripts/rulerstudy -seed 1                  # 40 frames a class, 400 without a ruler
//	go run ./scripts/rulerstudy -seed 1 -class lines -v  # one class, a line a frame
//	go run ./scripts/rulerstudy -seed 1 -keep DIR        # and keeps the pictures that went wrong
//
// What is readable is decided by the scene before its picture is drawn, by the rule that package
// crops states. A picture takes the way of the program: the file is opened, looked at, and
// interpreted twice, told what a run's run.toml would say of the ruler, and told nothing. A line a
// class:
//
//	read      of the readable frames, told; alone: told nothing
//	wrong     readings off by more than 0.3 mm (or 1 px, where that is more) anywhere between their
//	          first and last graduation, told or not, and not flagged as unsure
//	absolute  readings that claim to count from zero and do not, told or not
//	ends      front ends claimed more than 3 px (0.3 mm, where that is more) from any end of the ruler
//	phantom   readings with two graduations or more beyond the ruler's end
//	front     front ends found of those readable, told; their median error along the ruler, px
//	advance   median error of the reading at a line across the picture, mm at 10 px/mm
//	error/u   root mean square of that error over its stated standard uncertainty
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

// options are what a study is asked for.
type options struct {
	seed    uint64
	frames  int    // a class
	whole   int    // frames of the class that is not cut out
	without int    // pictures that have no ruler
	class   string // "" for all
	verbose bool
	keep    string // folder for pictures that went wrong; "" for none

	photographs string // folder that holds those of rulers
}

func main() {
	var o options
	flag.Uint64Var(&o.seed, "seed", 0, "seed of the study; there is no usual one")
	flag.IntVar(&o.frames, "frames", 40, "frames a class")
	flag.IntVar(&o.whole, "whole", 2, "whole frames of 12 to 45 megapixels, seconds each")
	flag.IntVar(&o.without, "without", 400, "pictures that have no ruler")
	flag.StringVar(&o.class, "class", "", "these classes alone, with commas: "+strings.Join(classes(), ", "))
	flag.BoolVar(&o.verbose, "v", false, "a line a frame")
	flag.StringVar(&o.keep, "keep", "", "folder for the pictures that went wrong")
	flag.StringVar(&o.photographs, "photographs", filepath.Join("..", "shared"),
		"folder that holds the folders rulers and rulers-more")
	flag.Parse()
	if err := o.check(); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(2)
	}
	start := time.Now()
	r, err := study(o, os.Stdout)
	if err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
	r.print(os.Stdout)
	s := r.claims()
	if err := s.Print(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
	fmt.Printf("seed %d, %.0f s on %d processors\n", o.seed, time.Since(start).Seconds(), runtime.GOMAXPROCS(0))
	os.Exit(s.Status())
}

func (o options) check() error {
	if o.seed == 0 {
		return fmt.Errorf("no seed\nhint: add -seed N; keep some seeds unseen until the work is done")
	}
	for _, c := range o.classes() {
		if !slices.Contains(classes(), c) {
			return fmt.Errorf("no class %q\nhint: there are %s", c, strings.Join(classes(), ", "))
		}
	}
	return nil
}

// classes are those that are asked for.
func (o options) classes() []string {
	if o.class == "" {
		return classes()
	}
	return strings.Split(o.class, ",")
}
