package read

import (
	"leadmark/calib/read/still"
	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// lookForStill looks through some frames for rulers that lie still, shots or not: h is what most of
// them were looked at under.
func lookForStill(shots []Shot, list []int, h ruler.Hint, sighting func(i int) ruler.Sighting) still.Found {
	list = distinct(shots, list)
	run := still.Run{Frames: make([]still.Frame, len(list)), Hint: h,
		Sighting: func(k int) ruler.Sighting { return sighting(list[k]) }}
	for k, i := range list {
		s := &shots[i]
		f := still.Frame{Rest: s.Reason.Code == CodeStill}
		if s.Status == "" {
			f.Done = &s.Conditions
		}
		run.Frames[k] = f
	}
	return still.Find(run)
}

// distinct takes every picture of a list once: copies say nothing more.
func distinct(shots []Shot, list []int) (some []int) {
	had := map[string]bool{}
	for _, i := range list {
		if d := shots[i].Digest; d == "" || !had[d] {
			had[d] = true
			some = append(some, i)
		}
	}
	return some
}

// stillWarnings says that nothing tells whether the ruler that was read moves at all.
func stillWarnings(f still.Found) []Warning {
	if !f.Undecided {
		return nil
	}
	return []Warning{{Note: note.New("one-place")}}
}
