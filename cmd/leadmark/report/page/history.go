package page

import (
	"fmt"

	"leadmark/calib/provenance"
	"leadmark/calib/rig"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/figure"
	"leadmark/cmd/leadmark/report/phrase"
)

// historyView is the page of a rig's history.
type historyView struct {
	Rig, Made, Generator string
	Charts               []chartView
	Head                 phrase.Headline // what is in force
	Why                  string
	Damaged              []string
	MadeBy               string
}

type chartView struct {
	Setup, Text string
	Alarm       bool
	Figures     []figureView
	Rows        []chartRowView
}

type chartRowView struct {
	Number                                            int
	Accepted, Lag, Interval, Spread, Range, Note, Out string
	InForce                                           bool
}

// History is the page of a rig's control charts.
func History(name string, h rig.History, m Making) Page {
	v := historyView{Rig: name, Made: m.time(), Generator: m.generator(), MadeBy: madeBy(provenance.Of(h.Digest, nil))}
	if f, ok := h.InForce(); ok {
		v.Head = phrase.Headline{Before: fmt.Sprintf("Calibration %d is in force", f.Number), After: "."}
		if l := f.Entry.Lag; l != nil {
			v.Head = phrase.Headline{Before: fmt.Sprintf("Calibration %d is in force: a lag of", f.Number),
				Value: phrase.Lag(l.Estimate())}
		}
		v.Why = phrase.Sentence(f.Why())
	}
	for i, c := range h.Charts() {
		v.Charts = append(v.Charts, viewChart(i, c))
	}
	for _, d := range h.Damaged {
		v.Damaged = append(v.Damaged, fmt.Sprintf("Line %d of %s cannot be read and is passed over: %s.", d.Line,
			rig.HistoryName, d.What))
	}
	return Page{"history.html", v}
}

func viewChart(i int, c rig.Chart) chartView {
	v := chartView{Setup: "Set-up: " + c.Setup.String() + ".", Text: phrase.Sentence(words.Sentence(c.Note)),
		Alarm: c.Control != nil && !c.Control.InControl}
	for k, p := range c.Points {
		r := chartRowView{Number: p.Number, Accepted: p.Accepted.Format("2006-01-02 15:04"), Lag: phrase.Lag(p.Lag),
			Interval: phrase.MS.Span(p.Lag.Interval95), Note: p.Note, Out: words.Sentence(p.Out), InForce: p.InForce}
		if p.Entry.Spread != nil {
			e := p.Entry.Spread.Estimate()
			r.Spread = phrase.MS.At(e.Value, phrase.Half(e))
		}
		if c.Control != nil && k > 0 {
			r.Range = phrase.MS.At(c.Control.Points[k].Range, p.Lag.U)
		}
		v.Rows = append(v.Rows, r)
	}
	for k, f := range []*figure.Figure{figure.Lags(c), figure.Ranges(c)} {
		if f != nil {
			v.Figures = append(v.Figures, *viewFigure(fmt.Sprintf("%s-%d", []string{"lag", "range"}[k], i+1), *f))
		}
	}
	return v
}
