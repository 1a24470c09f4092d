package summary

import (
	"fmt"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/phrase"
)

// NextStep is the one thing to do now, for a screen that is read from afar.
type NextStep struct {
	Text string // what to do: a few words
	Why  string // what it is good for; "" where Text says it
	Done bool   // nothing more needs to be shot
}

// Next says what to shoot next: the first batch of the plan where a goal was set, else the first
// advice.
func Next(r calib.Result) NextStep {
	if p := r.Plan; p != nil {
		switch {
		case p.Reached:
			return NextStep{Text: "Done: the goal is reached", Why: phrase.Sentence(words.Schedule(*p)), Done: true}
		case len(p.Stage) > 0:
			return NextStep{Text: phrase.Sentence(words.Batch(p.Stage[0])), Why: phrase.Sentence(words.Schedule(*p))}
		}
		return NextStep{Text: phrase.Sentence(words.Schedule(*p))}
	}
	if len(r.Fit.Advice) > 0 {
		a := r.Fit.Advice[0]
		if text, ok := batchText(a.Drop, a.Delay, a.Shots, r.Run.Method); ok {
			return NextStep{Text: text, Why: phrase.Sentence(words.Sentence(a.Note))}
		}
		return NextStep{Text: phrase.Sentence(words.Sentence(a.Note))}
	}
	return NextStep{Text: "Enough for now", Why: "No further shot would tell much more than these do.", Done: true}
}

// batchText is a batch in the fewest words.
func batchText(drop, delay float64, shots int, m runfile.Method) (string, bool) {
	if shots < 1 || drop <= 0 && m == runfile.Drop {
		return "", false
	}
	text := fmt.Sprintf("Shoot %d more", shots)
	if drop > 0 {
		text = fmt.Sprintf("Drop %s from %s", times(shots), phrase.MM.Stated(drop))
	}
	if delay > 0 {
		text += ", delay " + phrase.MS.Stated(delay)
	}
	return text, true
}

func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}
