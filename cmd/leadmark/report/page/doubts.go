package page

import (
	"strings"

	"leadmark/calib"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit/note"
)

type warningView struct {
	Code, Text, Hint string
	Frames           []frameLink
}

type adviceView struct{ Text, After string }

// warningViews is the run's warnings, and those of the fit's notes that are not among them.
func warningViews(r calib.Result, pictures bool) []warningView {
	ids := map[string]string{}
	for i, f := range r.Frames {
		ids[f.Name] = cardLink(i, len(r.Frames), pictures)
	}
	var out []warningView
	known := map[string]bool{}
	add := func(w calib.Warning) {
		v := warningView{Code: w.Code}
		text, hint, _ := strings.Cut(words.Sentence(w.Note), "\nhint: ")
		v.Text, v.Hint = phrase.Sentence(text), phrase.Sentence(hint)
		for _, name := range w.Frames {
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
			add(calib.Warning{Note: note.Of(n.Code, words.Said, n.Text)})
		}
	}
	return out
}

func adviceViews(r calib.Result) []adviceView {
	var out []adviceView
	for _, a := range r.Fit.Advice {
		v := adviceView{Text: phrase.Sentence(a.Text)}
		if a.ULagAfter > 0 && !strings.Contains(a.Text, "uncertainty") {
			v.After = "The lag's standard uncertainty should then be about " + phrase.MS.At(a.ULagAfter, a.ULagAfter)
			if e := r.Fit.Lag; e != nil && e.U > 0 {
				v.After += "; it is " + phrase.MS.At(e.U, e.U) + " now"
			}
			v.After += "."
		}
		out = append(out, v)
	}
	return out
}
