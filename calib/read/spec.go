package read

import (
	"leadmark/calib/runfile"
	"leadmark/vision/ruler"
)

// specOf is what the reading of a ruler is told of it.
func specOf(r runfile.Run) ruler.Spec {
	return ruler.Spec{Graduation: r.Ruler.Graduation, Front: r.Ruler.Front,
		Band: r.Ruler.Band, BandAt: r.Ruler.BandAt, Toward: r.Travel.Direction(), Twin: r.Ruler.TwinFlash > 0}
}

// stillSpec is the same for the still, which one flash lights or a lamp.
func stillSpec(r runfile.Run) ruler.Spec {
	s := specOf(r)
	s.Twin = false
	return s
}

// hinted adds to a hint what holds for every frame of the run.
func hinted(r runfile.Run, h ruler.Hint) ruler.Hint {
	h.Twin, h.Toward = nil, r.Travel.Direction()
	if r.Ruler.TwinFlash > 0 {
		s := specOf(r)
		h.Twin = &s
	}
	return h
}
