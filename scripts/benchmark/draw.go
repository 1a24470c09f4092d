package main

import (
	"fmt"
	"os"

	"leadmark/vision/synth/runs"
)

// once has something drawn into a folder that is not there yet, whole or not at all.
func once(dir string, draw func(part string) error) error {
	if _, err := os.Stat(dir); err == nil {
		return nil
	}
	fmt.Fprintf(os.Stderr, "drawing %s, once ...\n", dir)
	part := dir + ".part"
	if err := os.RemoveAll(part); err != nil {
		return err
	}
	if err := draw(part); err != nil {
		return err
	}
	return os.Rename(part, dir)
}

func drawOnce(dir string, r runs.RunSpec) error {
	return once(dir, func(part string) error {
		_, err := runs.WriteRun(part, r)
		return err
	})
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

// smallRun is a run of a hundred different small pictures, so that ten thousand files of them are
// soon read.
func smallRun() runs.RunSpec {
	r := runs.DemoRun(7)
	r.Name, r.Odd = "small", nil
	r.Shots = 100 / len(r.Drops)
	r.Width, r.Height = 1088, 725
	return r
}
