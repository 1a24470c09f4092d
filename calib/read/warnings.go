package read

import (
	"math"
	"slices"

	"leadmark/calib/runfile"
	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// Warnings are what the reading of the pictures leaves in doubt; the shots are those of Advances.
func (g Readings) Warnings(shots []Shot) []Warning {
	out := append(slices.Clone(g.lying), g.moved...)
	if g.run.Ruler.Front != nil && math.Abs(g.offset) > frontOff {
		out = append(out, Warning{Note: note.New("front-offset", g.offset)})
	}
	out = append(append(out, g.slates...), flashWarnings(shots, g.list)...)
	out = append(out, correctionWarnings(g.run, shots)...)
	return append(out, readingWarnings(shots, g.list)...)
}

// readingWarnings joins the readings' own warnings by their code.
func readingWarnings(shots []Shot, readings []ruler.Reading) []Warning {
	at := map[string]int{}
	var out []Warning
	for i, r := range readings {
		if shots[i].Status != ruler.StatusRead {
			continue
		}
		for _, w := range r.Warnings {
			k, is := at[w.Code]
			if !is {
				k = len(out)
				at[w.Code] = k
				out = append(out, Warning{Note: w})
			}
			out[k].Frames = append(out[k].Frames, shots[i].Name)
		}
	}
	return out
}

// correctionWarnings tells what a person changed, so that nobody takes it for measured, and which
// corrections had no effect.
func correctionWarnings(run runfile.Run, shots []Shot) []Warning {
	var out []Warning
	told := map[string][]string{}
	there := map[string]bool{}
	var idle []string
	for _, f := range shots {
		there[f.Name] = true
		for _, kind := range f.Corrected {
			told[kind] = append(told[kind], f.Name)
		}
		if f.Status == ruler.StatusRefused && len(f.Corrected) > 0 {
			idle = append(idle, f.Name)
		}
	}
	say := func(frames []string, what note.Note) {
		if len(frames) > 0 {
			out = append(out, Warning{what, frames})
		}
	}
	say(told[runfile.CorrectedFront], note.Of(codeByHand, "front"))
	say(told[runfile.CorrectedRuler], note.Of(codeByHand, "ruler"))
	say(told[runfile.CorrectedLeftOut], note.Of(codeByHand, "left-out"))
	if t := run.Corrections.Trip; t != nil {
		out = append(out, Warning{Note: note.Of(codeByHand, "trip", t.U)})
	}
	var gone []string
	for _, c := range run.Corrections.Frames {
		if !there[c.Frame] {
			gone = append(gone, c.Frame)
		}
	}
	if len(gone) > 0 {
		out = append(out, Warning{Note: note.Of("by-hand-unused", "gone", gone)})
	}
	say(idle, note.Of("by-hand-unused", "unread"))
	return out
}

// codeByHand is of what a person changed.
const codeByHand = "by-hand"
