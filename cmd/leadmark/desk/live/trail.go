package live

import (
	"leadmark/calib"
)

// trailPoint is what the run told when so many frames were read.
type trailPoint struct {
	N    int     `json:"n"`
	Lag  float64 `json:"lag_ms"`
	Low  float64 `json:"low_ms"`
	High float64 `json:"high_ms"`
}

// mostTrail bounds the points of the drawing that shows how the lag became known.
const mostTrail = 40

// retrace works out how the lag became known, beside the rest: the answer does not wait for it.
func (r *Run) retrace(result calib.Result) {
	var trail []trailPoint
	for _, p := range calib.Trail(result, mostTrail) {
		trail = append(trail, trailPoint{p.N, p.Lag * 1e3, p.Low * 1e3, p.High * 1e3})
	}
	r.mu.Lock()
	stale := r.result == nil || r.result.RunSHA256 != result.RunSHA256
	r.mu.Unlock()
	if !stale {
		r.change(func() { r.trail = trail })
	}
}
