package page

import (
	"strings"

	"leadmark/calib"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/phrase"
)

type warningView struct {
	Code, Text, Hint string
	Frames           []frameLink
	More             int // frames that are not named here
}

// warningViews is the run's warnings, and those of the fit's notes that are not among them.
func warningViews(r calib.Result, pictures bool) []warningView {
	ids, to := map[string]string{}, linksOf(r, pictures)
	for i, f := range r.Frames {
		ids[f.Name] = to.to(i)
	}
	var out []warningView
	known := map[string]bool{}
	add := func(w calib.Warning) {
		v := warningView{Code: w.Code}
		text, hint, _ := strings.Cut(words.Sentence(w.Note), "\nhint: ")
		v.Text, v.Hint = phrase.Sentence(text), phrase.Sentence(hint)
		v.More = max(0, len(w.Frames)-mostNames)
		for _, name := range w.Frames[:len(w.Frames)-v.More] {
			v.Frames = append(v.Frames, frameLink{name, ids[name]})
		}
		out = append(out, v)
	}
	for _, w := range r.Warnings {
		known[w.Code] = true
		add(w)
	}
	for _, n := range r.Fit.Notes {
		if !known[n.Code] {
			add(calib.Warning{Note: n})
		}
	}
	return out
}

// adviceTexts is what to shoot next.
func adviceTexts(r calib.Result) []string {
	var out []string
	for _, a := range r.Fit.Advice {
		out = append(out, phrase.Sentence(words.Sentence(a.Note)))
	}
	return out
}
