package calibrate

import (
	"os"
	"runtime/debug"

	"leadmark/fit/parallel"
	"leadmark/vision/frame"
)

// collectEarly has garbage collected before it makes a run of thousands take more memory than one
// of hundreds: left to itself, the collector lets twice as much pile up as is in use. The bound
// leaves room for the pictures being looked at and for twice the readings, and is none for what is
// in use. A bound that the user set (GOMEMLIMIT) stays.
func collectEarly(frames []frame.Frame, workers int) {
	if os.Getenv("GOMEMLIMIT") != "" {
		return
	}
	workers = parallel.Workers(workers)
	largest := int64(0)
	for _, f := range frames {
		largest = max(largest, 3*int64(f.StoredWidth)*int64(f.StoredHeight)+f.Size)
	}
	const least, each = 72 << 20, 8 << 10 // bytes
	debug.SetMemoryLimit(max(least, each*int64(len(frames))) + int64(workers)*largest)
}
