package rig

import (
	"time"

	"leadmark/calib/provenance"
	"leadmark/calib/words"
	"leadmark/fit/drift"
	"leadmark/fit/unit"
)

// Schemas of what the program prints of a rig's calibrations.
const (
	HistorySchema    = "leadmark/history/1"
	ComparisonSchema = "leadmark/comparison/1"
)

// HistoryDocument is a history in the units of the file formats: every line, and a control chart
// for each set-up.
type HistoryDocument struct {
	Schema string `json:"schema"`
	provenance.Made
	Rig          string        `json:"rig"`
	InForce      *forceEntry   `json:"in_force,omitempty"`
	Calibrations []Numbered    `json:"calibrations"`
	Restores     []Restore     `json:"restores"`
	Charts       []chartEntry  `json:"charts"`
	Damaged      []damageEntry `json:"damaged"`
}

// forceEntry says which calibration holds and why.
type forceEntry struct {
	Number int    `json:"number"`
	Why    string `json:"why"`
}

// damageEntry is a line that cannot be read.
type damageEntry struct {
	Line int    `json:"line"`
	What string `json:"what"`
}

// chartEntry is the control chart of one set-up. The limits are absent with fewer than three
// calibrations.
type chartEntry struct {
	Setup         Setup        `json:"setup"`
	Text          string       `json:"text"`
	InControl     *bool        `json:"in_control,omitempty"`
	CentreMS      *float64     `json:"centre_ms,omitempty"`
	LowerMS       *float64     `json:"lower_ms,omitempty"`
	UpperMS       *float64     `json:"upper_ms,omitempty"`
	SigmaMS       *float64     `json:"sigma_ms,omitempty"`
	RangeCentreMS *float64     `json:"range_centre_ms,omitempty"`
	RangeUpperMS  *float64     `json:"range_upper_ms,omitempty"`
	Points        []pointEntry `json:"points"`
}

// pointEntry is one calibration on a chart.
type pointEntry struct {
	Number   int       `json:"number"`
	Accepted time.Time `json:"accepted"`
	LagMS    float64   `json:"lag_ms"`
	UMS      float64   `json:"u_ms"`
	RangeMS  *float64  `json:"range_ms,omitempty"` // distance from the one before; absent for the first
	Out      string    `json:"out,omitempty"`      // what rule of the chart it breaks
	InForce  bool      `json:"in_force"`
}

// NewHistoryDocument makes the document of the rig's history.
func NewHistoryDocument(name string, h History) HistoryDocument {
	d := HistoryDocument{Schema: HistorySchema, Made: provenance.Of(h.Digest, nil), Rig: name, Calibrations: []Numbered{},
		Restores: append([]Restore{}, h.Restores...), Charts: []chartEntry{}, Damaged: []damageEntry{}}
	if f, ok := h.InForce(); ok {
		d.InForce = &forceEntry{f.Number, f.Why()}
	}
	for i, e := range h.Entries {
		d.Calibrations = append(d.Calibrations, Numbered{i + 1, e})
	}
	for _, c := range h.Charts() {
		d.Charts = append(d.Charts, chartOf(c))
	}
	for _, l := range h.Damaged {
		d.Damaged = append(d.Damaged, damageEntry{l.Line, l.What})
	}
	return d
}

func chartOf(c Chart) chartEntry {
	e := chartEntry{Setup: c.Setup, Text: words.Sentence(c.Note), Points: []pointEntry{}}
	if k := c.Control; k != nil {
		e.InControl = &k.InControl
		e.CentreMS, e.LowerMS, e.UpperMS, e.SigmaMS = ms(k.Centre), ms(k.Lower), ms(k.Upper), ms(k.Sigma)
		e.RangeCentreMS, e.RangeUpperMS = ms(k.RangeCentre), ms(k.RangeUpper)
	}
	for i, p := range c.Points {
		q := pointEntry{Number: p.Number, Accepted: p.Accepted, LagMS: p.Entry.Lag.ValueMS, UMS: p.Entry.Lag.UMS,
			Out: words.Sentence(p.Out), InForce: p.InForce}
		if c.Control != nil && i > 0 {
			q.RangeMS = ms(c.Control.Points[i].Range)
		}
		e.Points = append(e.Points, q)
	}
	return e
}

// ms turns seconds into milliseconds with six digits: a chart's lines are sums over rounded values.
func ms(s float64) *float64 {
	return new(unit.Significant(s*1e3, 6))
}

// ComparisonDocument is a comparison in the units of the file formats.
type ComparisonDocument struct {
	Schema string `json:"schema"`
	provenance.Made
	Rig    string           `json:"rig"`
	A      comparedEntry    `json:"a"`
	B      comparedEntry    `json:"b"`
	Lag    *differenceEntry `json:"lag,omitempty"`
	Spread *ratioEntry      `json:"spread,omitempty"`
	Doubts []string         `json:"doubts"`
}

// comparedEntry names one of the two.
type comparedEntry struct {
	Number   int       `json:"number"`
	Accepted time.Time `json:"accepted"`
	Note     string    `json:"note"`
	Setup    *Setup    `json:"setup,omitempty"`
}

// differenceEntry is the lag of B minus that of A.
type differenceEntry struct {
	DifferenceMS float64    `json:"difference_ms"`
	UMS          float64    `json:"u_ms"`
	DF           float64    `json:"df"`
	Interval95MS [2]float64 `json:"interval95_ms"`
	T            float64    `json:"t"`
	P            float64    `json:"p_value"`
	MarginMS     float64    `json:"margin_ms,omitempty"`
	PMargin      *float64   `json:"p_margin,omitempty"` // with a margin
	Equivalent   *bool      `json:"equivalent,omitempty"`
	Verdict      string     `json:"verdict"` // differ, equivalent or undecided
	Text         string     `json:"text"`
}

// ratioEntry is the spread of B over that of A.
type ratioEntry struct {
	Ratio      float64    `json:"ratio"`
	Interval95 [2]float64 `json:"interval95"`
	F          float64    `json:"f"`
	P          float64    `json:"p_value"`
	DFA        float64    `json:"df_a"`
	DFB        float64    `json:"df_b"`
	Differ     bool       `json:"differ"`
	Text       string     `json:"text"`
}

// NewComparisonDocument makes the document of a comparison.
func NewComparisonDocument(name string, c Comparison) ComparisonDocument {
	d := ComparisonDocument{Schema: ComparisonSchema, Made: provenance.Of(c.Digest, nil), Rig: name, A: compared(c.A),
		B:      compared(c.B),
		Doubts: words.Sentences(c.Doubts)}
	if l := c.Lag; l != nil {
		to := func(s float64) float64 { return unit.Fixed(s*1e3, unit.Decimals(l.U*1e3)) }
		d.Lag = &differenceEntry{DifferenceMS: to(l.Value), UMS: to(l.U), DF: unit.Significant(l.DF, 3),
			Interval95MS: [2]float64{to(l.Interval95.Low), to(l.Interval95.High)},
			T:            unit.Significant(l.T, 3), P: unit.Significant(l.P, 3), MarginMS: *ms(l.Margin),
			Verdict: l.Verdict, Text: words.Sentence(l.Note)}
		if l.Margin > 0 {
			p := unit.Significant(l.PMargin, 3)
			d.Lag.PMargin, d.Lag.Equivalent = &p, &l.Equivalent
		}
	}
	if r := c.Spread; r != nil {
		d.Spread = ratioOf(*r)
	}
	return d
}

func ratioOf(r drift.Ratio) *ratioEntry {
	return &ratioEntry{Ratio: unit.Significant(r.Value, 3),
		Interval95: [2]float64{unit.Significant(r.Interval95.Low, 3),
			unit.Significant(r.Interval95.High, 3)},
		F: unit.Significant(r.F, 3), P: unit.Significant(r.P, 3), DFA: unit.Significant(r.DFA, 3),
		DFB: unit.Significant(r.DFB, 3), Differ: r.Differ, Text: words.Sentence(r.Note)}
}

func compared(n Numbered) comparedEntry {
	return comparedEntry{n.Number, n.Accepted, n.Note, n.Setup}
}
