package page

import (
	"fmt"

	"leadmark/calib"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/phrase"
)

// planView is what to shoot to reach the goal that was asked for.
type planView struct {
	Goal, Text string
	Now        []string
}

func planViews(r calib.Result) *planView {
	s := r.Plan
	if s == nil {
		return nil
	}
	v := &planView{Text: phrase.Sentence(words.Schedule(*s))}
	of := "the lag"
	if r.Run.Goal.Next {
		of = "the next shot's lag"
	}
	v.Goal = fmt.Sprintf("Goal: a standard uncertainty of %s of at most %s.", of, phrase.MS.Stated(r.Run.Goal.U))
	for _, b := range s.Stage {
		v.Now = append(v.Now, "Now: "+words.Batch(b)+".")
	}
	return v
}
