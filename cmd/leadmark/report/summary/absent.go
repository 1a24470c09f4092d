package summary

import (
	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/vision/ruler"
)

// whyNoLag says what the run lacked to tell the lag, and what to shoot: the cases of
// "what can be told apart" in the format's contract.
func whyNoLag(r calib.Result) string {
	read, _, _, _ := tally(r)
	speeds, delays := knownSpeeds(r), knownDelays(r)
	tripGiven := r.Run.Trip != nil // readings by hand count from a zero of their own, which need not be the trip place
	switch {
	case read == 0:
		return "no frame could be read"
	case speeds == 1 && !tripGiven:
		return "one known speed cannot tell the lag from an unknown trip place: shoot a second height or " +
			"speed, or mark the trip place with [trip] in run.toml"
	case speeds == 0 && delays < 2 && r.Run.Method == runfile.Drop:
		return "the height of the drop is not stated: add drop_mm to run.toml or shots.csv"
	case speeds == 0 && delays < 2:
		return "no speed is known and no delay was swept: measure the speed (speed_mps), or repeat the same " +
			"push with three or more added delays"
	case speeds == 0 && !tripGiven:
		return "the delays tell the speed, but the lag also needs the trip place: mark it with [trip] in run.toml"
	}
	return "the frames that were read do not hold enough to tell it; see the warnings"
}

// knownSpeeds counts the different stated speeds among the frames read.
func knownSpeeds(r calib.Result) int {
	seen := map[[2]float64]bool{}
	for _, f := range r.Frames {
		if c := f.Conditions; f.Status == ruler.StatusRead && (c.Drop > 0 || c.Speed > 0) {
			seen[[2]float64{c.Drop, c.Speed}] = true
		}
	}
	return len(seen)
}

func knownDelays(r calib.Result) int {
	seen := map[float64]bool{}
	for _, f := range r.Frames {
		if f.Status == ruler.StatusRead {
			seen[f.Conditions.Delay] = true
		}
	}
	return len(seen)
}
