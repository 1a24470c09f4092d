package main

import (
	"fmt"
	"os"

	"leadmark/vision/synth/runs"
)

// drawOnce draws the frames where they are not there yet.
func drawOnce(dir string, frames int) error {
	if _, err := os.Stat(dir); err == nil {
		return nil
	}
	fmt.Fprintf(os.Stderr, "drawing %d frames into %s, once ...\n", frames, dir)
	part := dir + ".part"
	if err := os.RemoveAll(part); err != nil {
		return err
	}
	if _, err := runs.WriteRun(part, benchRun(frames)); err != nil {
		return err
	}
	return os.Rename(part, dir)
}

// benchRun is a run of drops with the grain of a sensor and the quality a camera saves at, so that
// the files are as large as a camera's: about 9 MB.
func benchRun(frames int) runs.RunSpec {
	r := runs.DemoRun(7)
	r.Name, r.Odd = "bench", nil
	r.Shots = (frames + len(r.Drops) - 1) / len(r.Drops)
	r.Width, r.Height = 6000, 4000
	r.Quality, r.FullWell = 96, 2500
	return r
}
