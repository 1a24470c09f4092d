package record

import (
	"leadmark/calib/words"
	"leadmark/fit"
	"leadmark/fit/unit"
)

// BudgetEntry is what makes up the standard uncertainty of one estimate, in the form of the GUM
// (JCGM 100:2008, table H.1): the squares of its lines' u add up to the square of its own.
type BudgetEntry struct {
	Of    string       `json:"of"`             // lag or trip_offset
	UMS   float64      `json:"u_ms,omitempty"` // of the lag
	UMM   float64      `json:"u_mm,omitempty"` // of the trip offset
	DF    float64      `json:"df,omitempty"`
	Lines []BudgetLine `json:"lines"`
	Drawn *DrawnEntry  `json:"monte_carlo,omitempty"`
}

// DrawnEntry is the same uncertainty found by drawing every input and solving the model for each
// draw (JCGM 101:2008).
type DrawnEntry struct {
	Draws        int         `json:"draws"`
	UMS          float64     `json:"u_ms,omitempty"` // with the scatter held: to be set beside the budget's
	UMM          float64     `json:"u_mm,omitempty"`
	Interval95MS *[2]float64 `json:"interval95_ms,omitempty"` // with the scatter drawn: to be set beside the estimate's
	Interval95MM *[2]float64 `json:"interval95_mm,omitempty"`
	Agrees       bool        `json:"agrees"` // within the tolerance of clause 8
}

// BudgetLine is one contribution. Input is in InputUnit, Sensitivity in the estimate's unit per
// InputUnit.
type BudgetLine struct {
	Source      string   `json:"source"`
	Text        string   `json:"text"`
	DropMM      *float64 `json:"drop_mm,omitempty"` // the stated height that it belongs to
	Kind        string   `json:"kind"`              // A: from the scatter of the shots; B: stated beforehand
	N           int      `json:"n"`                 // independent errors of this kind
	Input       float64  `json:"input"`
	InputUnit   string   `json:"input_unit"` // mm, ms, m/s, m/s^2 or 1
	Sensitivity float64  `json:"sensitivity"`
	UMS         float64  `json:"u_ms,omitempty"`
	UMM         float64  `json:"u_mm,omitempty"`
	Share       float64  `json:"share"` // of the variance
}

func budgetEntry(b fit.Budget) BudgetEntry {
	e := BudgetEntry{Of: b.Of, DF: freedom(b.DF), Lines: []BudgetLine{}}
	e.UMS, e.UMM = inUnit(b.U, b.Unit)
	out, _ := milli(b.Unit)
	for _, c := range b.Lines {
		in, name := milli(c.Unit)
		l := BudgetLine{Source: c.Source, Text: words.Contribution(c), Kind: c.Kind, N: c.N, Input: tidy(c.Input * in),
			InputUnit:   name,
			Sensitivity: tidy(c.Sensitivity * out / in), Share: tidy(c.Share)}
		if c.Drop > 0 {
			l.DropMM = new(unit.Stated(c.Drop * 1e3))
		}
		l.UMS, l.UMM = inUnit(c.U, b.Unit)
		e.Lines = append(e.Lines, l)
	}
	return e
}

// drawnEntry is nil where nothing was drawn.
func drawnEntry(of string, p fit.Propagation) *DrawnEntry {
	q := p.Lag
	if of == "trip_offset" {
		q = p.Trip
	}
	if q == nil {
		return nil
	}
	e := &DrawnEntry{Draws: p.Draws, Agrees: q.Agrees}
	iv := interval(q.Interval95, unit.Decimals(q.U*1e3))
	if of == "trip_offset" {
		e.UMM, e.Interval95MM = tidy(q.U*1e3), iv
	} else {
		e.UMS, e.Interval95MS = tidy(q.U*1e3), iv
	}
	return e
}
