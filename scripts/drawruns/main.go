// Command drawruns draws the twelve simulated runs of vision/synth/runs into folders, for developers.
//
//	go run ./scripts/drawruns -seed 1 -out runs
//	go run ./scripts/drawruns -seed 1 -out demo -demo
//	go run ./scripts/drawruns -seed 1 -out gallery -gallery   # single pictures of every kind of ruler
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"leadmark/vision/synth/runs"
	"leadmark/vision/synth/studies"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run() error {
	seed := flag.Int64("seed", 1, "seed of the runs")
	out := flag.String("out", "", "folder to write to")
	only := flag.Int("only", 0, "number of the one run to draw, 1 to 12; 0 for all")
	demo := flag.Bool("demo", false, "draw the demonstration run instead")
	gallery := flag.Bool("gallery", false, "draw single pictures of every kind of ruler instead")
	flag.Parse()
	if *out == "" {
		return fmt.Errorf("no folder to write to\nhint: add -out DIR")
	}
	if *gallery {
		return studies.WriteGallery(*out, *seed)
	}
	if *demo {
		return draw(*out, runs.DemoRun(*seed))
	}
	for i, spec := range runs.TwelveRuns(*seed) {
		if *only != 0 && *only != i+1 {
			continue
		}
		if err := draw(filepath.Join(*out, fmt.Sprintf("%02d-%s", i+1, spec.Name)), spec); err != nil {
			return err
		}
	}
	return nil
}

func draw(dir string, spec runs.RunSpec) error {
	start := time.Now()
	truth, err := runs.WriteRun(dir, spec)
	if err != nil {
		return err
	}
	readable := 0
	for _, f := range truth.Frames {
		if f.Readable {
			readable++
		}
	}
	fmt.Printf("%s: %d frames, %d readable, %.1f s\n", dir, len(truth.Frames), readable, time.Since(start).Seconds())
	return nil
}
