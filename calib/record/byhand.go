package record

import "leadmark/calib"

// ByHandEntry says that a person changed something, and how much.
type ByHandEntry struct {
	Frames   int  `json:"frames"`    // with a correction
	TripLine bool `json:"trip_line"` // placed by hand
}

func byHandEntry(r calib.Result) *ByHandEntry {
	e := ByHandEntry{TripLine: r.Run.Corrections.Trip != nil}
	for _, f := range r.Frames {
		if len(f.Corrected) > 0 {
			e.Frames++
		}
	}
	if e == (ByHandEntry{}) {
		return nil
	}
	return &e
}
