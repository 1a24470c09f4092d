package page

import (
	"strings"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/cmd/leadmark/report/figure"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/summary"
)

// pageView is all that the page shows, in words; the template only lays it out.
type pageView struct {
	Stamp          string // what the page was made from
	Title, Eyebrow string
	Head           phrase.Headline
	Lines          []phrase.Line
	Answer         *figureView
	Warnings       []warningView
	Advice         []string
	Legend         []figure.Key
	Figures        []figureView
	Budgets        []budgetView
	Checks         []checkView
	Outliers       *outliersView
	Plan           *planView
	Cards          []cardView
	Upright        bool // the ruler stands upright in the pictures
	PictureNote    string
	Conditions     []conditionView
	MoreConditions int // that are not listed
	Settings       []phrase.Line
	Rows           []rowView
	Unlisted       string // which frames the table leaves out
	Speeds         bool   // a double flash measured some
	Exposures      bool   // they differ, so that the table needs their column
	Day            string // the one day on which all were taken
	Method         methodView
	Cite           []phrase.Line
	Generator      string
	HasPictures    bool
	CardPages      []frameLink // of a long run, whose cards are not on this page
	LineName       string      // of the line drawn across the pictures
}

// commonView is what the page and the pages of cards have in common.
func commonView(r calib.Result, m Making) pageView {
	v := pageView{Title: pageTitle(r), Eyebrow: eyebrow(r), LineName: annotate.TripOf(r).Name, Upright: upright(r),
		Generator: m.generator()}
	for k := range CardPages(len(r.Frames), m.Pictures) {
		v.CardPages = append(v.CardPages, pageLink(k, len(r.Frames)))
	}
	return v
}

// Run is the page of a run, with the pictures of its frames. The stamp says what it was made from.
func Run(r calib.Result, pictures []Picture, stamp string, m Making) Page {
	v := viewOf(r, pictures, m)
	v.Stamp = stamp
	return Page{"page.html", v}
}

func viewOf(r calib.Result, pictures []Picture, m Making) pageView {
	s := figure.ListShots(r)
	v := commonView(r, m)
	v.Head, v.Lines = summary.Head(r), summary.Answer(r)
	v.Warnings, v.Advice = warningViews(r, m.Pictures), adviceTexts(r)
	v.Legend, v.Rows, v.Conditions = figure.Legend(s), rowViews(r, pictures), conditionViews(r)
	v.MoreConditions = len(r.Fit.Advance) - len(v.Conditions)
	v.Settings, v.Method, v.Cite = settings(r), methodOf(r), citation(r, m)
	v.Budgets, v.Checks, v.Outliers, v.Plan = budgetViews(r), checkViews(r), outlierViews(r, m.Pictures), planViews(r)
	for _, f := range r.Frames {
		v.Speeds = v.Speeds || f.Speed > 0
	}
	v.Unlisted = unlisted(r, len(v.Rows))
	v.Exposures, v.Day = differ(r), commonDay(r)
	if f := figure.Answer(r, s); f != nil {
		v.Answer = viewFigure("scale", *f)
	}
	for i, f := range []*figure.Figure{figure.Curve(r, s), figure.Residuals(r, s), figure.Common(r, s)} {
		if f != nil {
			v.Figures = append(v.Figures, *viewFigure([]string{"curve", "residuals", "common"}[i], *f))
		}
	}
	v.PictureNote, v.HasPictures = pictureNote(pictures)
	if len(r.Frames) <= MostCards {
		v.Cards = cardViews(r, pictures, 0, len(r.Frames))
	}
	return v
}

func pageTitle(r calib.Result) string {
	name := r.Rig
	if name == "" {
		name = "rig"
	}
	if h := summary.Head(r); r.Fit.Lag != nil {
		return name + ": lag " + h.Value
	}
	return name + ": calibration run"
}

func eyebrow(r calib.Result) string {
	parts := []string{"Calibration run"}
	if r.Rig != "" {
		parts = []string{"Rig " + r.Rig, "calibration run"}
	}
	switch r.Run.Method {
	case runfile.Drop:
		parts = append(parts, "ruler dropped through the beam")
	case runfile.Push:
		parts = append(parts, "ruler pushed through the beam")
	}
	return strings.Join(parts, " · ")
}
