package summary

import (
	"leadmark/calib"
	"leadmark/cmd/leadmark/report/phrase"
)

// Head says the most useful thing that the run could tell.
func Head(r calib.Result) phrase.Headline {
	switch f := r.Fit; {
	case f.Lag != nil:
		return phrase.Headline{Before: "This rig fires",
			Value: phrase.MS.PlusMinus(f.Lag.Value, phrase.Half(*f.Lag)), After: "after the beam is broken."}
	case len(f.Advance) == 1:
		m := f.Advance[0].Mean
		return phrase.Headline{Before: "When the flash fires, the front end is",
			Value: phrase.MM.PlusMinus(m.Value, phrase.Half(m)),
			After: "past " + countLine(r) + "."}
	case len(f.Advance) > 1:
		return phrase.Headline{Before: "This run tells", Value: "how far",
			After: "the front end gets before the flash, condition by condition, but not the lag."}
	}
	return phrase.Headline{Before: "This run could not tell", Value: "when the rig fires",
		After: "after the beam is broken."}
}

func countLine(r calib.Result) string {
	switch {
	case r.CountLine == nil:
		return "the zero of the readings made by hand"
	case r.Run.Trip == nil:
		return "the program's own counting line"
	}
	return "the trip line given"
}
