// Command benchmark measures how long leadmark calibrate takes against decoding the same pictures
// alone, for developers. It is started by scripts/bench, which builds what it needs:
//
//	scripts/bench                  # 40 frames of 24 megapixels, drawn at the first call
//	scripts/bench -grow 10,100,1000   # and how time and memory grow with the number of frames
//
// The yardstick is djpeg -grayscale of libjpeg-turbo over the same files, in the same run, with as
// many processes as there are processors: nothing that reads the pictures whole can be much faster.
// Both are timed in turn, several times; what counts are ratios.
package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
)

// options of the benchmark.
type options struct {
	program, djpeg string // paths of the two programs
	dir            string // where the frames are drawn and kept
	frames, rounds int
	grow           []int // numbers of frames
}

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run() error {
	var o options
	var grow string
	flag.StringVar(&o.program, "program", "bin/leadmark", "the program to time")
	flag.StringVar(&o.djpeg, "djpeg", "djpeg", "libjpeg-turbo's decoder")
	flag.StringVar(&o.dir, "dir", "bench", "folder for the frames, which stay there")
	flag.IntVar(&o.frames, "frames", 40, "frames of 24 megapixels")
	flag.IntVar(&o.rounds, "rounds", 5, "rounds in turn")
	flag.StringVar(&grow, "grow", "", "numbers of frames to grow through, such as 10,100,1000")
	flag.Parse()
	if o.frames < 8 || o.rounds < 1 {
		return errors.New("at least 8 frames and 1 round are needed")
	}
	for _, word := range strings.FieldsFunc(grow, func(r rune) bool { return r == ',' }) {
		n, err := strconv.Atoi(word)
		if err != nil || n < 8 {
			return fmt.Errorf("-grow %s: %q is no number of frames from 8 on", grow, word)
		}
		o.grow = append(o.grow, n)
	}
	run := filepath.Join(o.dir, fmt.Sprintf("run%d", o.frames))
	if err := drawOnce(run, o.frames); err != nil {
		return err
	}
	fmt.Printf("%d frames of 24 megapixels, %d processes, %d rounds\n", o.frames, runtime.NumCPU(), o.rounds)
	if err := o.race(run, o.rounds); err != nil {
		return err
	}
	for _, n := range o.grow {
		if err := o.growTo(run, n); err != nil {
			return err
		}
	}
	return nil
}
