package report

import (
	"fmt"

	"leadmark/calib"
	"leadmark/calib/input"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/report/phrase"
)

// NextStep is the one thing to do now, for a screen that is read from afar.
type NextStep struct {
	Text string // what to do: a few words
	Why  string // what it is good for; "" where Text says it
	Done bool   // nothing more needs to be shot
}

// Next says what to shoot next: the first batch of the plan where a goal was set, else the first advice.
func Next(r calib.Result) NextStep {
	if p := r.Plan; p != nil {
		switch {
		case p.Reached:
			return NextStep{Text: "Done: the goal is reached", Why: phrase.Sentence(p.Text), Done: true}
		case len(p.Stage) > 0:
			return NextStep{Text: phrase.Sentence(p.Stage[0].Text), Why: phrase.Sentence(p.Text)}
		}
		return NextStep{Text: phrase.Sentence(p.Text)}
	}
	if len(r.Fit.Advice) > 0 {
		a := r.Fit.Advice[0]
		if text, ok := batchText(a.Drop, a.Delay, a.Shots, r.Run.Method); ok {
			return NextStep{Text: text, Why: phrase.Sentence(a.Text)}
		}
		return NextStep{Text: phrase.Sentence(a.Text)}
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

// FrameRemedy says what to change at the set after a frame that could not be used, by the code of
// its reason; "" where nothing at the set would help.
func FrameRemedy(code string) string {
	return map[string]string{
		"no-ruler":            "More light on the ruler, focus on its marks, and all of it in the picture.",
		"too-few-graduations": "Bring more of the ruler into view, or sharpen the focus.",
		"dark":                "The flash did not fire: look at heads, batteries, sync.",
		"front-not-visible":   "The ruler's end left the picture: aim further along the fall, or move back.",
		"before-trip":         "A false trip: shield the beam, or let the ruler hang still before letting go.",
		"two-rulers":          "Take the other ruler out of the picture.",
		"off-track":           "The ruler fell askew: guide it straight down the track.",
		"camera-moved":        "Fix the camera, then shoot on; the frames from here stand apart.",
		"blurred":             "Focus on the ruler, or lower the flash power for a shorter flash.",
		"twin-not-seen":       "One of the two flashes is missing: check both heads.",
		"truncated":           "The file is cut short: copy it from the card again.",
		"damaged":             "The file is damaged: copy it from the card again.",
		"replaced":            "Let the run be read again.",
		"not-listed":          "Say how it was shot: its height is not known yet.",
		"no-conditions":       "Say how it was shot: its height is not known yet.",
		"unsupported-format":  "Let the camera write JPEG beside the RAW file.",
	}[code]
}

// Remedy parts an error into what is wrong and what to do, in sentences.
func Remedy(err error) (what, todo string) {
	for _, e := range input.Faults(err) {
		w, h := input.Describe(e)
		return phrase.Sentence(w), h
	}
	return "", ""
}
