package record

import (
	"math"

	"leadmark/calib"
	"leadmark/fit"
	"leadmark/fit/unit"
	"leadmark/vision/ruler"
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

// DrawnEntry is the same uncertainty found by drawing every input and solving the model for each draw (JCGM 101:2008).
type DrawnEntry struct {
	Draws        int         `json:"draws"`
	UMS          float64     `json:"u_ms,omitempty"` // with the scatter held: to be set beside the budget's
	UMM          float64     `json:"u_mm,omitempty"`
	Interval95MS *[2]float64 `json:"interval95_ms,omitempty"` // with the scatter drawn: to be set beside the estimate's
	Interval95MM *[2]float64 `json:"interval95_mm,omitempty"`
	Agrees       bool        `json:"agrees"` // within the tolerance of clause 8
}

// BudgetLine is one contribution. Input is in InputUnit, Sensitivity in the estimate's unit per InputUnit.
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

// CheckEntry is one test of whether the run has one lag.
type CheckEntry struct {
	Name      string   `json:"name"`
	Tested    bool     `json:"tested"`
	Statistic *float64 `json:"statistic,omitempty"`
	P         *float64 `json:"p_value,omitempty"`
	Threshold *float64 `json:"threshold,omitempty"` // the alarm is raised at this p_value or below
	Alarm     bool     `json:"alarm"`
	EffectMS  *float64 `json:"effect_ms,omitempty"`
	UEffectMS *float64 `json:"u_effect_ms,omitempty"`
	Text      string   `json:"text"`
}

// OddEntry says which shots are odd and what the estimates would be with each counted in full.
type OddEntry struct {
	Frames      []string     `json:"frames"`
	Lag         *LagEntry    `json:"lag,omitempty"`
	Spread      *SpreadEntry `json:"spread,omitempty"`
	LagChangeMS *float64     `json:"lag_change_ms,omitempty"` // lag with every shot minus the lag as reported
	SpreadRatio *float64     `json:"spread_ratio,omitempty"`  // spread with every shot over the spread as reported
}

// milli is how many of the file's units make one SI unit, and the file's unit: lengths and times are in
// thousandths.
func milli(unit string) (scale float64, name string) {
	if unit == "m" || unit == "s" {
		return 1e3, "m" + unit
	}
	return 1, unit
}

func budgetEntry(b fit.Budget) BudgetEntry {
	e := BudgetEntry{Of: b.Of, DF: freedom(b.DF), Lines: []BudgetLine{}}
	e.UMS, e.UMM = inUnit(b.U, b.Unit)
	out, _ := milli(b.Unit)
	for _, c := range b.Lines {
		in, name := milli(c.Unit)
		l := BudgetLine{Source: c.Source, Text: c.Text, Kind: c.Kind, N: c.N, Input: tidy(c.Input * in), InputUnit: name,
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

// inUnit puts a standard uncertainty under the key of its unit.
func inUnit(u float64, unit string) (ms, mm float64) {
	if unit == "m" {
		return 0, tidy(u * 1e3)
	}
	return tidy(u * 1e3), 0
}

// tidy keeps three digits of what is itself an uncertainty or a share; 0 for what is no number.
func tidy(x float64) float64 {
	if !finite(x) {
		return 0
	}
	return unit.Significant(x, 3)
}

func checkEntry(c fit.Check) CheckEntry {
	e := CheckEntry{Name: c.Name, Tested: c.Tested, Alarm: c.Alarm, Text: c.Text}
	if !c.Tested {
		return e
	}
	e.Statistic, e.P, e.Threshold = some(c.Statistic), some(c.P), some(c.Threshold)
	if c.EffectU > 0 && finite(c.EffectU) {
		p := unit.Decimals(c.EffectU * 1e3)
		e.EffectMS, e.UEffectMS = optional(c.Effect*1e3, p), optional(c.EffectU*1e3, p)
	}
	return e
}

func some(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return new(unit.Significant(x, 3))
}

// oddEntry names the frames; the fit counts shots, which are the frames that were read.
func oddEntry(r calib.Result) *OddEntry {
	o := r.Fit.Odd
	if o == nil {
		return nil
	}
	e := &OddEntry{Frames: []string{}}
	read := readFrames(r.Frames)
	for _, k := range o.Shots {
		if k >= 0 && k < len(read) {
			e.Frames = append(e.Frames, read[k].Name)
		}
	}
	if o.Lag != nil {
		e.Lag = lagEntry(*o.Lag)
		e.LagChangeMS = optional(o.LagChange*1e3, unit.Decimals(o.Lag.U*1e3))
	}
	if o.Spread != nil {
		e.Spread = spreadEntry(*o.Spread)
	}
	if o.SpreadRatio > 0 {
		e.SpreadRatio = some(o.SpreadRatio)
	}
	return e
}

// readFrames lists the frames that were read, in the order of the fit's shots.
func readFrames(frames []calib.FrameResult) []calib.FrameResult {
	var read []calib.FrameResult
	for _, f := range frames {
		if f.Status == ruler.StatusRead {
			read = append(read, f)
		}
	}
	return read
}
