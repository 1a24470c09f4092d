package phrase

import "leadmark/calib"

// LineName is what the line drawn across the pictures is called: where the beam trips, as the run
// knows it or was told, or only the line that advances are counted from.
func LineName(r calib.Result) string {
	if r.TripLine != nil || r.Run.Trip != nil {
		return "trip line"
	}
	return "counting line"
}
