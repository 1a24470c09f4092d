package record

import (
	"slices"

	"leadmark/calib"
	"leadmark/calib/words"
	"leadmark/fit/unit"
)

// WarningEntries are a result's warnings as its document has them; never nil.
func WarningEntries(r calib.Result) []WarningEntry {
	out := []WarningEntry{}
	for _, w := range r.Warnings {
		out = append(out, WarningEntry{w.Code, words.Sentence(w.Note), slices.Clone(w.Frames)})
	}
	return out
}

func remarksOf(r calib.Result) Remarks {
	m := Remarks{Warnings: WarningEntries(r), Advice: []AdviceEntry{}}
	for _, a := range r.Fit.Advice {
		e := AdviceEntry{Text: words.Sentence(a.Note), DelayMS: unit.Stated(a.Delay * 1e3), Shots: a.Shots}
		if a.Drop > 0 {
			e.DropMM = new(unit.Stated(a.Drop * 1e3))
		}
		if a.ULagAfter > 0 && finite(a.ULagAfter) {
			e.ULagAfter = new(unit.Significant(a.ULagAfter*1e3, 3))
		}
		m.Advice = append(m.Advice, e)
	}
	m.Plan = planEntry(r.Run.Goal, r.Plan)
	return m
}
