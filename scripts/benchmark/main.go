// Command benchmark holds the time and the memory that the program takes against a yardstick, for
// developers. It is started by scripts/bench, which builds what it needs:
//
//	scripts/bench kinds       calibrate beside djpeg -grayscale over five kinds of frames (-megapixels, -kind)
//	scripts/bench calibrate   beside djpeg -grayscale over the same 40 frames of 24 megapixels
//	scripts/bench check       beside djpeg over the same 200 frames of 24 megapixels, in colour
//	scripts/bench plan        beside NumPy drawing as many of the same trips
//	scripts/bench fit         10,000 shots beside 1,000, and beside NumPy's line through as many points
//	scripts/bench grow        5,000 frames beside 500: processor time a frame, and memory
//
// Both sides take turns, so that a busy machine slows both alike, and what is held is the median
// over the turns of the ratio of their processor times. Before a time counts, the work must have
// been done: each side fails where its program does, and where the answer is not that of all the
// work. The status is 0 where all claims are kept.
package main

import (
	"errors"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"leadmark/scripts/claim"
)

// options of the benchmark; a number that is 0 is the case's own.
type options struct {
	program, djpeg, python string // paths of programs
	dir                    string // where frames are drawn and kept
	frames, turns          int
	few, many              int // frames to grow from and to
	megapixels             float64
	photographs            string
	kind                   []string // of frames; none for all
}

// cases are what may be asked for.
func cases() map[string]func(options, *claim.Study) error {
	return map[string]func(options, *claim.Study) error{
		"calibrate": options.calibrate,
		"check":     options.check,
		"plan":      options.plan,
		"fit":       options.fit,
		"grow":      options.grow,
		"kinds":     options.kinds,
	}
}

func main() {
	o, names, err := arguments(os.Args[1:])
	if err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(2)
	}
	var s claim.Study
	for _, name := range names {
		if err := cases()[name](o, &s); err != nil {
			s.Failed(name, err)
		}
	}
	if err := s.Print(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
	os.Exit(s.Status())
}

func arguments(args []string) (o options, names []string, err error) {
	f := flag.NewFlagSet("benchmark", flag.ContinueOnError)
	f.StringVar(&o.program, "program", "bin/leadmark", "the program to time")
	f.StringVar(&o.djpeg, "djpeg", "djpeg", "libjpeg-turbo's decoder")
	f.StringVar(&o.python, "python", "/usr/bin/python3", "a Python that has NumPy")
	f.StringVar(&o.dir, "dir", "bench", "folder for the frames, which stay there")
	f.IntVar(&o.frames, "frames", 0, "frames of a run")
	f.Float64Var(&o.megapixels, "megapixels", 24, "of the frames of kinds")
	f.StringVar(&o.photographs, "photographs", filepath.Join("..", "shared"),
		"folder that holds the folders rulers and rulers-more, for the kind made of photographs")
	kind := f.String("kind", "", "kinds of frames, with commas: own, other, photographs, repeated, without; none for all")
	f.IntVar(&o.turns, "turns", 0, "turns that each side takes")
	grow := f.String("grow", "500,5000", "numbers of frames to grow from and to")
	if err := f.Parse(args); err != nil {
		return o, nil, err
	}
	if *kind != "" {
		o.kind = strings.Split(*kind, ",")
	}
	if o.few, o.many, err = twoNumbers(*grow); err != nil {
		return o, nil, err
	}
	if o.frames < 0 || o.turns < 0 || o.frames > 0 && o.frames < 8 {
		return o, nil, errors.New("at least 8 frames and 1 turn are needed")
	}
	known := slices.Sorted(maps.Keys(cases()))
	if f.NArg() == 0 {
		return o, nil, fmt.Errorf("say what to time: %s", strings.Join(known, ", "))
	}
	for _, name := range f.Args() {
		if !slices.Contains(known, name) {
			return o, nil, fmt.Errorf("there is no case %q; there are %s", name, strings.Join(known, ", "))
		}
	}
	return o, f.Args(), nil
}

func twoNumbers(text string) (few, many int, err error) {
	a, b, _ := strings.Cut(text, ",")
	few, errA := strconv.Atoi(a)
	many, errB := strconv.Atoi(b)
	if errA != nil || errB != nil || few < 8 || many <= few {
		return 0, 0, fmt.Errorf("-grow %s: two numbers of frames are needed, from 8 on, as 500,5000", text)
	}
	return few, many, nil
}
