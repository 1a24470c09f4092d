package annotate

import (
	"leadmark/calib"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/vision/ruler"
)

// Trip is a line that is drawn across the pictures, and what it is called.
type Trip struct {
	Line *ruler.Line // nil where there is none
	Name string
}

// TripOf is the trip line to draw: the true place where the run knows it, else the line the
// advances are counted from.
func TripOf(r calib.Result) Trip {
	line := r.CountLine
	if r.TripLine != nil {
		line = r.TripLine
	}
	return Trip{line, phrase.LineName(r)}
}
