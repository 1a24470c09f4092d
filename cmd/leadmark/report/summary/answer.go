package summary

import (
	"fmt"
	"math"
	"strings"

	"leadmark/calib"
	"leadmark/cmd/leadmark/report/phrase"
)

// Answer lists what the run could tell and what it could not, the most wanted first.
// Values carry expanded uncertainties or intervals of 95 % probability.
func Answer(r calib.Result) []phrase.Line {
	lines := []phrase.Line{lagLine(r), spreadLine(r), nextLine(r)}
	if r.Fit.Lag != nil {
		lines = append(lines, leadLine(r))
	}
	lines = append(lines, tripLine(r))
	lines = append(lines, speedLines(r)...)
	if r.Fit.Lag == nil {
		lines = append(lines, advanceLines(r)...)
	}
	return append(lines, framesLine(r))
}

func lagLine(r calib.Result) phrase.Line {
	l := phrase.Line{Key: "lag", Label: "Lag"}
	e := r.Fit.Lag
	if e == nil {
		l.Note = whyNoLag(r)
		return l
	}
	l.Value = phrase.MS.PlusMinus(e.Value, phrase.Half(*e))
	l.Note = fmt.Sprintf("from the broken beam to the flash, no delay added; 95 %% interval %s, standard "+
		"uncertainty %s",
		phrase.MS.Span(e.Interval95), phrase.MS.At(e.U, e.U))
	return l
}

func spreadLine(r calib.Result) phrase.Line {
	l := phrase.Line{Key: "spread", Label: "Spread from shot to shot"}
	e := r.Fit.Spread
	switch {
	case e == nil && r.Fit.Lag == nil:
		l.Note = "needs the lag first"
	case e == nil:
		l.Note = "too few frames to tell the spread: shoot at least three more under equal conditions"
	case !(e.Interval95.Low > 0):
		l.Value = "below " + phrase.MS.At(e.Interval95.High, e.Interval95.High)
		l.Note = "with 95 % confidence; the frames' own reading errors explain all that varies, so the " +
			"spread may be zero"
	default:
		l.Value = phrase.MS.At(e.Value, phrase.Half(*e))
		l.Note = "one standard deviation; 95 % interval " + phrase.MS.Span(e.Interval95)
	}
	return l
}

func nextLine(r calib.Result) phrase.Line {
	l := phrase.Line{Key: "next_shot", Label: "The next shot's lag"}
	switch {
	case r.Fit.NextShot != nil:
		l.Value = phrase.MS.Span(*r.Fit.NextShot)
		l.Note = "with 95 % probability"
	case r.Fit.Lag == nil:
		l.Note = "needs the lag first"
	default:
		l.Note = "needs the spread: shoot at least three more frames under equal conditions"
	}
	return l
}

// leadLine turns the lag into the photographer's length: lead = speed x lag, so that a lag in
// milliseconds is a lead in millimetres at one metre per second.
func leadLine(r calib.Result) phrase.Line {
	e := r.Fit.Lag
	l := phrase.Line{Key: "lead", Label: "Lead of a subject at 1 m/s",
		Value: phrase.MM.PlusMinus(e.Value, phrase.Half(*e))}
	l.Note = "how far it has gone past the beam when the flash fires; in proportion at other speeds"
	if n := r.Fit.NextShot; n != nil {
		l.Note += "; the next shot " + phrase.MM.Span(*n)
	}
	return l
}

func tripLine(r calib.Result) phrase.Line {
	l := phrase.Line{Key: "trip_offset", Label: "Where the beam really trips"}
	e := r.Fit.TripOffset
	switch {
	case e != nil:
		l.Value = phrase.MM.PlusMinus(e.Value, phrase.Half(*e))
		l.Note = "past " + countLine(r) + ", counted in the direction of travel"
		if r.CountLine != nil && r.Run.Trip == nil {
			l.Note += "; that line was laid where the beam was found to trip, and is drawn on the frames"
		}
	case r.Run.Trip != nil && (r.Run.Trip.Line != nil || r.Run.Trip.Still != ""):
		l.Value = "as given in [trip]"
		l.Note = "standard uncertainty " + phrase.MM.Stated(r.Run.Trip.U) + "; two known speeds or more would check it"
	default:
		l.Note = "unknown: two known speeds or more tell it, or mark it with [trip] in run.toml"
	}
	return l
}

func speedLines(r calib.Result) []phrase.Line {
	lines := doubleFlashLines(r)
	for _, s := range r.Fit.Speeds {
		l := phrase.Line{Key: "speed", Label: "Speed", Value: phrase.MPS.PlusMinus(s.Value, phrase.Half(s.Estimate)),
			Note: "estimated from the delays"}
		if s.Group != "" {
			l.Label = "Speed of group " + s.Group
		}
		lines = append(lines, l)
	}
	return lines
}

// doubleFlashLines sums up the speeds that a double flash measured.
func doubleFlashLines(r calib.Result) []phrase.Line {
	n, lo, hi, u := 0, math.Inf(1), math.Inf(-1), 0.0
	for _, f := range r.Frames {
		if f.Speed > 0 {
			n, lo, hi, u = n+1, min(lo, f.Speed), max(hi, f.Speed), max(u, f.SpeedU)
		}
	}
	if n == 0 {
		return nil
	}
	return []phrase.Line{{Key: "speed", Label: "Speeds by the twin flash",
		Value: phrase.MPS.At(lo, u) + " to " + phrase.MPS.At(hi, u),
		Note: fmt.Sprintf("at the trip point, of %s; each to %s (95 %%)", phrase.Count(n, "frame"),
			phrase.MPS.At(2*u, u))}}
}

func advanceLines(r calib.Result) []phrase.Line {
	var lines []phrase.Line
	for _, g := range r.Fit.Advance {
		l := phrase.Line{Key: "advance", Label: "Advance, " + phrase.GroupName(g),
			Value: phrase.MM.PlusMinus(g.Mean.Value, phrase.Half(g.Mean))}
		l.Note = fmt.Sprintf("mean of %s past %s", phrase.Count(g.N, "frame"), countLine(r))
		if t := g.Tolerance95; t != nil {
			l.Note += "; 95 % of shots lie within " + phrase.MM.Span(*t) + " (95 % confidence)"
		}
		lines = append(lines, l)
	}
	return lines
}

func framesLine(r calib.Result) phrase.Line {
	read, refused, leftOut, outliers := tally(r)
	l := phrase.Line{Key: "frames", Label: "Frames", Value: fmt.Sprintf("%d of %d read", read, len(r.Frames))}
	notes := []string{fmt.Sprintf("%d refused, %d left out", refused, leftOut)}
	if outliers > 0 {
		notes = append(notes, phrase.Count(outliers, "odd shot")+" given little or no weight")
	}
	l.Note = strings.Join(notes, "; ")
	return l
}
