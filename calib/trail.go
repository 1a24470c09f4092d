package calib

import (
	"leadmark/calib/read"
	"leadmark/calib/runfile"
	"leadmark/vision/ruler"
)

// TrailPoint is what a run told when so many of its frames had been read.
type TrailPoint struct {
	N              int     // frames read
	Lag, Low, High float64 // s; Low and High are the 95 % interval
}

// Trail tells how the lag became known as the frames of a result came, in their order: from as many
// prefixes of the run as asked for, evenly spread, the last being the whole. The advances stay as
// the whole run has them. Prefixes that tell no lag are left out.
func Trail(r Result, points int) []TrailPoint {
	var at []int // places of the frames read
	shots := make([]read.Shot, len(r.Frames))
	for i, f := range r.Frames {
		shots[i] = f.Shot
		if f.Status == ruler.StatusRead {
			at = append(at, i)
		}
	}
	run := r.Run
	run.Goal = runfile.Goal{}
	var out []TrailPoint
	for k := 1; k <= points; k++ {
		n := (len(at)*k + points - 1) / points
		if n == 0 || len(out) > 0 && out[len(out)-1].N == n {
			continue
		}
		part, _, err := estimate(run, shots[:at[n-1]+1], r.counting)
		if l := part.Fit.Lag; err == nil && l != nil {
			out = append(out, TrailPoint{n, l.Value, l.Interval95.Low, l.Interval95.High})
		}
	}
	return out
}
