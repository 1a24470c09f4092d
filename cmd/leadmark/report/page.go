package report

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"leadmark/calib"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/report/annotate"
	"leadmark/cmd/leadmark/report/figure"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/style"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/vision/ruler"
)

//go:embed page/*.html
var pageFiles embed.FS

// pageView is all that the page shows, in words; the template only lays it out.
type pageView struct {
	Stamp          string // what the page was made from
	Title, Eyebrow string
	Head           phrase.Headline
	Lines          []phrase.Line
	Answer         *figureView
	Warnings       []warningView
	Advice         []adviceView
	Legend         []figure.Key
	Figures        []figureView
	Budgets        []budgetView
	Checks         []checkView
	Odd            *oddView
	Plan           *planView
	Cards          []cardView
	Upright        bool // the ruler stands upright in the pictures
	PictureNote    string
	Conditions     []conditionView
	Settings       []phrase.Line
	Rows           []rowView
	Speeds         bool   // a twin flash measured some
	Exposures      bool   // they differ, so that the table needs their column
	Day            string // the one day on which all were taken
	Method         methodView
	Cite           []phrase.Line
	Generator      string
	HasPictures    bool
	CardPages      []frameLink // of a long run, whose cards are not on this page
	LineName       string      // of the line drawn across the pictures
}

type figureView struct {
	ID, Title, Caption string
	SVG                []template.HTML
}

type frameLink struct{ Name, Href string }

type warningView struct {
	Code, Text, Hint string
	Frames           []frameLink
}

type adviceView struct{ Text, After string }

type cardView struct {
	ID, Name, Href, Status, Value, Note, Alt string
	Outlier                                  bool
	Thumb                                    *annotate.Thumb
	Missing                                  string
}

type conditionView struct{ Name, N, Mean, SD, Tolerance string }

type rowView struct {
	ID, Name, Href, Status, Condition, Advance, U, Residual, Speed, Taken, Exposure, Reason string
	Outlier                                                                                 bool
}

type methodView struct {
	Drop, Push, Lag, Tolerance, Advance bool
	Gravity                             string
}

// render fills one of the page templates in.
func render(w io.Writer, name string, view any) error {
	t, err := template.New(name).Funcs(template.FuncMap{"t": phrase.Typeset, "css": style.Page}).ParseFS(pageFiles,
		"page/"+name, "page/parts.html")
	if err != nil {
		return err
	}
	return t.Execute(w, view)
}

// cardsView is one page of the cards of a long run.
type cardsView struct {
	pageView
	This  frameLink
	Pages []frameLink
}

func pageLink(k, n int) frameLink {
	return frameLink{fmt.Sprintf("frames %d to %d", k*mostCards+1, min((k+1)*mostCards, n)), cardsFile(k)}
}

// cardLink leads from the page itself to a frame's card, or to its row where it has no card.
func cardLink(i, n int, pictures bool) string {
	if cardPages(n, pictures) == 0 {
		return "#" + frameID(i)
	}
	return cardsFile(i/mostCards) + "#" + frameID(i)
}

// commonView is what the page and the pages of cards have in common.
func commonView(r calib.Result, o Options) pageView {
	v := pageView{Title: pageTitle(r), Eyebrow: eyebrow(r), LineName: annotate.TripOf(r).Name, Upright: upright(r),
		Generator: strings.TrimSpace("leadmark " + o.Version)}
	for k := range cardPages(len(r.Frames), o.Picture != nil) {
		v.CardPages = append(v.CardPages, pageLink(k, len(r.Frames)))
	}
	return v
}

// cardsPage is page k of the cards of a long run.
func cardsPage(r calib.Result, pictures []picture, k int, o Options) cardsView {
	v := cardsView{pageView: commonView(r, o), This: pageLink(k, len(r.Frames))}
	v.Pages = v.CardPages
	from := k * mostCards
	to := min(from+mostCards, len(r.Frames))
	v.Cards = cardViews(r, pictures, from, to)
	v.PictureNote, v.HasPictures = pictureNote(pictures[from:to])
	return v
}

func viewOf(r calib.Result, pictures []picture, o Options) pageView {
	s := figure.ListShots(r)
	v := commonView(r, o)
	v.Head, v.Lines, v.Warnings, v.Advice = summary.Head(r), summary.Answer(r), warningViews(r, o.Picture != nil), adviceViews(r)
	v.Legend, v.Rows, v.Conditions = figure.Legend(s), rowViews(r, pictures), conditionViews(r)
	v.Settings, v.Method, v.Cite = settings(r), methodOf(r), citation(r, o)
	v.Budgets, v.Checks, v.Odd, v.Plan = budgetViews(r), checkViews(r), oddViews(r, o.Picture != nil), planViews(r)
	for _, f := range r.Frames {
		v.Speeds = v.Speeds || f.Speed > 0
	}
	v.Exposures, v.Day = differ(v.Rows), commonDay(r)
	if f := figure.Answer(r, s); f != nil {
		v.Answer = viewFigure("scale", *f)
	}
	for i, f := range []*figure.Figure{figure.Curve(r, s), figure.Residuals(r, s), figure.Common(r, s)} {
		if f != nil {
			v.Figures = append(v.Figures, *viewFigure([]string{"curve", "residuals", "common"}[i], *f))
		}
	}
	v.PictureNote, v.HasPictures = pictureNote(pictures)
	if len(r.Frames) <= mostCards {
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

// viewFigure is a figure with its place on the page.
func viewFigure(id string, f figure.Figure) *figureView {
	return &figureView{ID: id, Title: f.Title, Caption: f.Caption, SVG: f.SVG}
}

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
		text, hint, _ := strings.Cut(w.Text, "\nhint: ")
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
			add(calib.Warning{Code: n.Code, Text: n.Text})
		}
	}
	return out
}

func frameID(i int) string { return fmt.Sprintf("frame-%d", i+1) }

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

// cardViews are the cards of the frames from one up to, not with, another.
func cardViews(r calib.Result, pictures []picture, from, to int) []cardView {
	var out []cardView
	for i := from; i < to; i++ {
		f := r.Frames[i]
		v := cardView{ID: frameID(i), Name: f.Name, Href: pictures[i].file, Status: statusWord(f),
			Outlier: f.Fit.Outlier,
			Thumb:   pictures[i].thumb, Missing: pictures[i].why, Alt: cardAlt(f, annotate.TripOf(r).Name)}
		v.Value, v.Note = summary.CardWords(f)
		out = append(out, v)
	}
	return out
}

func cardAlt(f calib.FrameResult, line string) string {
	if f.Status != ruler.StatusRead {
		return "The whole frame " + f.Name + ", which was not read."
	}
	return fmt.Sprintf("The ruler in %s with %s, its front end and the %s marked.", f.Name,
		phrase.Count(f.Reading.Graduations.Len(), "graduation"), line)
}

func statusWord(f calib.FrameResult) string {
	switch f.Status {
	case ruler.StatusRead:
		return "read"
	case ruler.StatusRefused:
		return "refused"
	}
	return "left out"
}

// upright tells whether most rulers stand upright in their pictures.
func upright(r calib.Result) bool {
	n := 0
	for _, f := range r.Frames {
		if f.Status == ruler.StatusRead {
			if annotate.Upright(f) {
				n++
			} else {
				n--
			}
		}
	}
	return n > 0
}

func pictureNote(pictures []picture) (note string, any bool) {
	for _, p := range pictures {
		if p.file != "" {
			return "", true
		}
	}
	return "The report was made without pictures of the frames.", false
}

// differ tells whether the frames were not all exposed alike.
func differ(rows []rowView) bool {
	one := ""
	for _, r := range rows {
		if one == "" {
			one = r.Exposure
		}
		if r.Exposure != "" && r.Exposure != one {
			return true
		}
	}
	return false
}
