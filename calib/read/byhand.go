package read

import (
	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/vision/frame"
	"leadmark/vision/ruler"
)

// ByHand are the shots of a run whose advances were read elsewhere.
func ByHand(run runfile.Run, list []runfile.HandReading) []Shot {
	var all []Shot
	given := map[string]bool{}
	for _, h := range list {
		given[h.Frame] = true
		f := Shot{Frame: frame.Frame{Name: h.Frame}, Conditions: h.Conditions, Status: ruler.StatusRead,
			Advance: h.Advance, U: h.U}
		switch put := run.Corrections.Of(h.Frame); {
		case put.LeftOut != "":
			f.Corrected = []string{runfile.CorrectedLeftOut}
			f.LeaveOut(leftOut(put))
		case !h.Use:
			f.LeaveOut(setAside(h.Why))
		case !h.Read:
			f.Status, f.Reason = ruler.StatusRefused, note.Of(CodeNoReading, "empty")
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
		f := Shot{Frame: frame.Frame{Name: s.Frame}, Conditions: s.Conditions}
		if f.LeaveOut(note.Of(CodeNoReading, "missing")); !s.Use {
			f.LeaveOut(setAside(s.Why))
		}
		all = append(all, f)
	}
	return all
}
