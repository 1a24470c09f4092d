package calib

import (
	"leadmark/calib/input"
	"leadmark/calib/runfile"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// FromReadings estimates what a run can tell from advances read by hand. They are counted from
// the zero of the readings; where run.toml states a [trip], be it u_mm alone, that zero is the trip place.
func FromReadings(run runfile.Run, readings runfile.Readings) (Result, error) {
	run.Digest = input.Digest([]byte(run.Digest), []byte(readings.Digest))
	var c Counting
	if run.Trip != nil {
		c.TripU = &run.Trip.U
	}
	return Estimate(run, frameResults(run, readings.List), c)
}

func frameResults(run runfile.Run, list []runfile.HandReading) []FrameResult {
	var all []FrameResult
	given := map[string]bool{}
	for _, h := range list {
		given[h.Frame] = true
		f := FrameResult{Frame: frame.Frame{Name: h.Frame}, Conditions: h.Conditions, Status: ruler.StatusRead, Advance: h.Advance, U: h.U}
		switch put := run.Corrections.Of(h.Frame); {
		case put.LeftOut != "":
			f.Corrected = []string{runfile.CorrectedLeftOut}
			f.leaveOut(CodeLeftOut, leftOut(put))
		case !h.Use:
			f.leaveOut(CodeSetAside, setAside(h.Why))
		case !h.Read:
			f.Status, f.Reason = ruler.StatusRefused, ruler.Reason{Code: CodeNoReading, Text: "advance_mm is empty"}
		}
		if f.Status != ruler.StatusRead {
			f.Advance, f.U = 0, 0
		}
		all = append(all, f)
	}
	for _, s := range run.Shots {
		if given[s.Frame] {
			continue
		}
		f := FrameResult{Frame: frame.Frame{Name: s.Frame}, Conditions: s.Conditions}
		if f.leaveOut(CodeNoReading, "the readings made by hand do not have it"); !s.Use {
			f.leaveOut(CodeSetAside, setAside(s.Why))
		}
		all = append(all, f)
	}
	return all
}
