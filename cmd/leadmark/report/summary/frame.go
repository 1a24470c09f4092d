package summary

import (
	"fmt"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/vision/ruler"
)

// CardWords says of a frame of a run its advance, "" where it has none, and what there is to note.
func CardWords(f calib.FrameResult) (value, note string) {
	if f.Status != ruler.StatusRead {
		return "", words.Sentence(f.Reason)
	}
	note = phrase.ConditionOf(f.Conditions).Name()
	if f.Fit.Outlier {
		note += "; odd shot"
		if !f.Fit.Why.None() {
			note += ": " + words.Sentence(f.Fit.Why)
		}
	}
	for _, text := range ByHand(f) {
		note += "; " + text
	}
	for _, w := range f.Reading.Warnings {
		note += "; " + words.Sentence(w)
	}
	return phrase.MM.PlusMinus(f.Advance, 2*f.U), note
}

// FrameWords says what a frame came to: its advance, "" where it has none, and what there is to
// note.
func FrameWords(f calib.FrameResult) (value, note string) {
	if f.Status == ruler.StatusRead && f.U == 0 {
		return "", seen(f.Reading)
	}
	return CardWords(f)
}

// ByHand says what a person changed in a frame that was read.
func ByHand(f calib.FrameResult) []string {
	var notes []string
	for _, kind := range f.Corrected {
		switch kind {
		case runfile.CorrectedFront:
			notes = append(notes, "front end placed by hand")
		case runfile.CorrectedRuler:
			notes = append(notes, "ruler marked by hand")
		}
	}
	return notes
}

// seen says what a reading that belongs to no run shows: without a trip place it has no advance.
func seen(r ruler.Reading) string {
	s := phrase.Count(r.Graduations.Len(), "graduation") + " of " + phrase.MM.Stated(r.Graduation)
	if r.Front == nil {
		return s + "; the front end is not in the picture"
	}
	return s + "; front end at " + fmt.Sprintf("%.1f, %.1f px", r.Front.At.X, r.Front.At.Y)
}

// Verdict says what one frame came to.
func Verdict(f calib.FrameResult) string {
	switch f.Status {
	case ruler.StatusRead:
		if f.U == 0 {
			return seen(f.Reading)
		}
		text := "advance " + phrase.MM.PlusMinus(f.Advance, 2*f.U) + " (reading alone, 95 %)"
		if f.Speed > 0 {
			text += "; " + phrase.MPS.PlusMinus(f.Speed, 2*f.SpeedU) + " at the trip point"
		}
		return text
	case ruler.StatusRefused:
		return "refused: " + words.Sentence(f.Reason)
	}
	return "left out: " + words.Sentence(f.Reason)
}
