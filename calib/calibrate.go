package calib

import (
	"context"

	"leadmark/calib/input"
	"leadmark/calib/read"
	"leadmark/calib/read/tripline"
	"leadmark/calib/runfile"
	"leadmark/vision/ruler"
)

// Calibrate reads every frame of the run and estimates what the run can tell. A frame that cannot
// be read is refused with its reason; only a picture search that was broken off, or a run without
// any result (*input.NoResult), is an error.
//
// A line of the program's own choice is moved to where the beam was found to trip, and all is
// counted again from there: advances are counted from the place they are named after, and a ruler
// that hangs a little differently in each frame is read where it matters.
func Calibrate(ctx context.Context, run runfile.Run, folder read.Folder, o read.Options) (Result, error) {
	readings, err := read.All(ctx, run, folder, o)
	if err != nil {
		return Result{}, err
	}
	line, err := readings.Line()
	if err != nil {
		return Result{Run: run, Frames: unfitted(readings.Shots)}, err
	}
	shots := readings.Advances(line)
	r, _, err := estimate(run, shots, countedFrom(line))
	if err != nil {
		return r, err
	}
	if !line.Given && r.Fit.TripOffset != nil {
		line = tripline.Line{Line: tripPlace(readings, r, line)}
		r, shots = Result{}, nil // of a long run they take room
		shots = readings.Advances(line)
	}
	if r, err = Estimate(run, shots, countedFrom(line)); err != nil {
		return r, err
	}
	r.Warnings = append(r.Warnings, readings.Warnings(shots)...)
	if line.Given || r.Fit.TripOffset != nil {
		trip := tripPlace(readings, r, line)
		r.TripLine = &trip
	}
	return r, nil
}

// countedFrom says of a line in the picture that advances are counted from it.
func countedFrom(l tripline.Line) Counting {
	if !l.Given {
		return Counting{Line: &l.Line}
	}
	return Counting{Line: &l.Line, TripU: &l.U}
}

// tripPlace is the true trip place in the picture: the line counted from, moved by the trip offset
// along the way of travel.
func tripPlace(readings read.Readings, r Result, l tripline.Line) ruler.Line {
	if r.Fit.TripOffset == nil {
		return l.Line
	}
	var scale []float64
	for _, f := range r.Frames {
		if f.Status == ruler.StatusRead {
			scale = append(scale, f.PxPerM)
		}
	}
	return readings.Past(l, r.Fit.TripOffset.Value, scale)
}

// FromReadings estimates what a run can tell from advances read by hand. They are counted from
// the zero of the readings; where run.toml states a [trip], be it u_mm alone, that zero is the trip
// place.
func FromReadings(run runfile.Run, readings runfile.Readings) (Result, error) {
	run.Digest = input.Digest([]byte(run.Digest), []byte(readings.Digest))
	var c Counting
	if run.Trip != nil {
		c.TripU = &run.Trip.U
	}
	return Estimate(run, read.ByHand(run, readings.List), c)
}
