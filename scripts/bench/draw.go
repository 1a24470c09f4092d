package main

import (
	"math"

	"leadmark/ruler/rulertest"
)

// benchRun is what is timed: forty frames of 24 megapixels, with the grain of a sensor and the quality a camera
// saves at, so that the files are as large as a camera's.
func benchRun(frames int, seed int64) rulertest.RunSpec {
	r := rulertest.DemoRun(seed)
	r.Name, r.Odd = "bench", nil
	r.Drops = []float64{0.1, 0.2, 0.4, 0.7}
	r.Shots = int(math.Ceil(float64(frames) / float64(len(r.Drops))))
	r.Width, r.Height = 6000, 4000
	r.Quality, r.FullWell = 96, 2500
	return r
}
