package report

import (
	"fmt"
	"math"
	"strconv"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit"
	"leadmark/fit/unit"
	"leadmark/vision/ruler"
)

// budgetView is an uncertainty budget as a table of the GUM's form (JCGM 100:2008, table H.1).
type budgetView struct {
	ID, Name, Caption string
	Lines             []budgetLineView
	U, DF, Expanded   string
	Drawn             string // what drawing the inputs gives instead
}

type budgetLineView struct{ Name, Kind, N, Input, Sensitivity, U, Share string }

// budgetViews are the budgets of what the run could tell.
func budgetViews(r calib.Result) []budgetView {
	var out []budgetView
	for i, b := range r.Fit.Budget {
		name, of := "The lag", r.Fit.Lag
		if b.Of == "trip_offset" {
			name, of = "Where the beam really trips", r.Fit.TripOffset
		}
		in := shown(b.Unit)
		v := budgetView{ID: fmt.Sprintf("budget-%d", i+1), Name: name, U: in.At(b.U, b.U), DF: freedomText(b.DF)}
		v.Caption = name + ": uncertainty budget. The squares of the contributions add up to the square of " +
			"the combined standard uncertainty."
		if of != nil {
			v.Expanded = in.At(phrase.Half(*of), phrase.Half(*of))
		}
		v.Drawn = drawnText(r.Propagation, b.Of, in)
		for _, c := range b.Lines {
			v.Lines = append(v.Lines, budgetLine(c, b.Unit))
		}
		out = append(out, v)
	}
	return out
}

// drawnText says what the Monte Carlo propagation of JCGM 101:2008 gave, and whether it agrees.
func drawnText(p fit.Propagation, of string, in phrase.Scale) string {
	q := p.Lag
	if of == "trip_offset" {
		q = p.Trip
	}
	if q == nil {
		return ""
	}
	verdict := "This agrees with the budget and the interval."
	if !q.Agrees {
		verdict = "This does not agree within its tolerance: the run bends more than a budget, which is a " +
			"straight line, can follow. Trust the interval, and shoot more to narrow it."
	}
	return fmt.Sprintf("Drawn instead %d times through the model itself (Monte Carlo, JCGM 101): standard "+
		"uncertainty %s, 95 %% interval %s. %s", p.Draws, in.At(q.U, q.U), in.Span(q.Interval95), verdict)
}

func budgetLine(c fit.Contribution, of string) budgetLineView {
	in, out := shown(c.Unit), shown(of)
	l := budgetLineView{Name: c.Text, Kind: c.Kind, N: strconv.Itoa(c.N),
		Input: two(c.Input/in.SI, c.Unit != "1", in.Unit),
		U:     two(c.U/out.SI, true, out.Unit), Share: percent(c.Share)}
	l.Sensitivity = two(c.Sensitivity*in.SI/out.SI, true, per(out.Unit, in.Unit))
	return l
}

// shown is the unit that a value in an SI unit is shown in.
func shown(si string) phrase.Scale {
	switch si {
	case "s":
		return phrase.MS
	case "m":
		return phrase.MM
	case "1":
		return phrase.Scale{SI: 1, Unit: ""}
	}
	return phrase.Scale{SI: 1, Unit: unit.Unit(typesetUnit(si))}
}

func typesetUnit(si string) string {
	if si == "m/s^2" {
		return "m/s²"
	}
	return si
}

// per is the unit of a sensitivity, "ms/mm"; nothing where both are the same.
func per(out, in unit.Unit) unit.Unit {
	switch {
	case out == in:
		return ""
	case in == "":
		return out
	case len(in) > 2:
		return out + "/(" + in + ")"
	}
	return out + "/" + in
}

// two prints a figure with two significant digits, as uncertainties are (GUM, 7.2.6).
func two(v float64, withUnit bool, u unit.Unit) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	s := phrase.Digits(v, max(unit.Places(math.Abs(v)), 0))
	if phrase.Round(v, 6) == 0 {
		s = "below 0.000001"
	}
	if withUnit && u != "" {
		s += " " + string(u)
	}
	return s
}

func percent(share float64) string {
	switch p := 100 * share; {
	case p < 0.05:
		return "below 0.1 %"
	case p < 10:
		return strconv.FormatFloat(p, 'f', 1, 64) + " %"
	default:
		return strconv.FormatFloat(p, 'f', 0, 64) + " %"
	}
}

// freedomText prints degrees of freedom; those that hardly differ from no end are called many.
func freedomText(df float64) string {
	switch {
	case !(df > 0):
		return ""
	case df > 1000:
		return "more than 1000"
	case df < 10:
		return strconv.FormatFloat(df, 'f', 1, 64)
	}
	return strconv.FormatFloat(df, 'f', 0, 64)
}

// checkView is one test of whether the run has one lag.
type checkView struct {
	Name, Finding, Text string
	Alarm               bool
}

// checkViews puts the alarms first and what could not be tested last.
func checkViews(r calib.Result) []checkView {
	var alarms, fine, untested []checkView
	for _, c := range r.Fit.Checks {
		v := checkView{Name: checkName(c.Name), Text: phrase.Sentence(c.Text), Alarm: c.Alarm}
		switch {
		case !c.Tested:
			v.Finding = "not tested"
			untested = append(untested, v)
		case c.Alarm:
			v.Finding = "alarm"
			alarms = append(alarms, v)
		default:
			v.Finding = "nothing found"
			fine = append(fine, v)
		}
	}
	return append(append(alarms, fine...), untested...)
}

// checkName says what a check looks for.
func checkName(code string) string {
	switch code {
	case "order":
		return "Drift over the shooting order"
	case "pause":
		return "The first shot after a pause"
	case "rest":
		return "Time since the shot before"
	case "setting":
		return "Exposure settings"
	case "two-lags":
		return "Two lags mixed"
	}
	return code
}

// oddView sets the estimates as reported beside those with every odd shot counted in full.
type oddView struct {
	Sum    string
	Rows   []oddRowView
	Frames []oddFrameView
}

type oddRowView struct{ Name, Without, With, Change string }

type oddFrameView struct {
	frameLink
	Why string
}

// oddViews is nil where no shot is odd.
func oddViews(r calib.Result, pictures bool) *oddView {
	o := r.Fit.Odd
	if o == nil || len(o.Shots) == 0 {
		return nil
	}
	v := &oddView{Sum: fmt.Sprintf("%s of %d do not follow the others. None was left out: they are weighed "+
		"down in the answer, and this is what each would be with every shot counted in full.",
		phrase.Count(len(o.Shots), "shot"), len(r.Fit.Shots))}
	if len(o.Shots) == 1 {
		v.Sum = fmt.Sprintf("1 shot of %d does not follow the others. It was not left out: it is weighed "+
			"down in the answer, and this is what each would be with it counted in full.", len(r.Fit.Shots))
	}
	if r.Fit.Lag != nil && o.Lag != nil {
		change := phrase.Digits(o.LagChange/phrase.MS.SI, phrase.Decimals(phrase.Half(*r.Fit.Lag)/phrase.MS.SI)) + " ms"
		if o.LagChange > 0 {
			change = "+" + change
		}
		v.Rows = append(v.Rows, oddRowView{"Lag", phrase.MS.PlusMinus(r.Fit.Lag.Value, phrase.Half(*r.Fit.Lag)),
			phrase.MS.PlusMinus(o.Lag.Value, phrase.Half(*o.Lag)), change})
	}
	if r.Fit.Spread != nil && o.Spread != nil {
		row := oddRowView{"Spread", phrase.MS.At(r.Fit.Spread.Value, phrase.Half(*r.Fit.Spread)),
			phrase.MS.At(o.Spread.Value, phrase.Half(*o.Spread)), ""}
		if o.SpreadRatio > 0 {
			row.Change = "× " + two(o.SpreadRatio, false, "")
		}
		v.Rows = append(v.Rows, row)
	}
	v.Frames = oddFrames(r, pictures)
	return v
}

func oddFrames(r calib.Result, pictures bool) []oddFrameView {
	var out []oddFrameView
	k := 0
	for i, f := range r.Frames {
		if f.Status != ruler.StatusRead {
			continue
		}
		for _, at := range r.Fit.Odd.Shots {
			if at == k {
				out = append(out, oddFrameView{frameLink{f.Name, cardLink(i, len(r.Frames), pictures)},
					phrase.Sentence(f.Fit.Why)})
			}
		}
		k++
	}
	return out
}

// planView is what to shoot to reach the goal that was asked for.
type planView struct {
	Goal, Text string
	Now        []string
}

func planViews(r calib.Result) *planView {
	s := r.Plan
	if s == nil {
		return nil
	}
	v := &planView{Text: phrase.Sentence(s.Text)}
	of := "the lag"
	if r.Run.Goal.Next {
		of = "the next shot's lag"
	}
	v.Goal = fmt.Sprintf("Goal: a standard uncertainty of %s of at most %s.", of, phrase.MS.Stated(r.Run.Goal.U))
	for _, b := range s.Stage {
		v.Now = append(v.Now, "Now: "+b.Text+".")
	}
	return v
}
