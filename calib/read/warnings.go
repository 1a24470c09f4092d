package read

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leadmark/calib/runfile"
	"leadmark/fit/unit"
	"leadmark/vision/ruler"
)

// Warnings are what the reading of the pictures leaves in doubt; the shots are those of Advances.
func (g Readings) Warnings(shots []Shot) []Warning {
	out := slices.Clone(g.moved)
	if g.run.Ruler.Front != nil && math.Abs(g.offset) > 0.3e-3 {
		out = append(out, Warning{Code: "front-offset", Text: fmt.Sprintf(
			"the front end lies %+.1f mm from where front_mm puts it on the ruler's own scale; measure the "+
				"end of the ruler and correct front_mm",
			1e3*g.offset)})
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
				out = append(out, Warning{Code: w.Code, Text: w.Text})
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
	say := func(kind, text string) {
		if len(told[kind]) > 0 {
			out = append(out, Warning{Code: "by-hand", Text: text, Frames: told[kind]})
		}
	}
	say(runfile.CorrectedFront, "the front end in these frames was placed by hand, "+
		"as "+runfile.CorrectionsFileName+" says")
	say(runfile.CorrectedRuler, "the ruler in these frames was looked for where a person marked it, "+
		"as "+runfile.CorrectionsFileName+" says")
	say(runfile.CorrectedLeftOut, "a person left these frames out, as "+runfile.CorrectionsFileName+" says")
	if t := run.Corrections.Trip; t != nil {
		out = append(out, Warning{Code: "by-hand",
			Text: fmt.Sprintf("the trip line was placed by hand, to %s mm, as %s says",
				unit.Decimal(unit.Stated(t.U*1e3)), runfile.CorrectionsFileName)})
	}
	var gone []string
	for _, c := range run.Corrections.Frames {
		if !there[c.Frame] {
			gone = append(gone, c.Frame)
		}
	}
	if len(gone) > 0 {
		out = append(out, Warning{Code: "by-hand-unused",
			Text: runfile.CorrectionsFileName + " speaks of " + strings.Join(gone, ", ") +
				", which the folder does not have; take the entries out if the frames will not come back"})
	}
	if len(idle) > 0 {
		out = append(out, Warning{Code: "by-hand-unused",
			Text: "these frames were corrected by hand and still cannot be read", Frames: idle})
	}
	return out
}
