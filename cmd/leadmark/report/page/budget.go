package page

import (
	"fmt"
	"math"
	"strconv"

	"leadmark/calib"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit"
	"leadmark/fit/unit"
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
	l := budgetLineView{Name: words.Contribution(c), Kind: c.Kind, N: strconv.Itoa(c.N),
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
	if unit.Fixed(v, 6) == 0 {
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
