package report

import (
	"fmt"
	"math"
	"strings"

	"leadmark/calib"
	"leadmark/vision/ruler"
)

// Line is one thing that a run says, in words: the terminal and the page print the same.
type Line struct {
	Key   string // lag, spread, next_shot, lead, trip_offset, speed, advance or frames
	Label string
	Value string // with unit and uncertainty; "" where the run could not tell
	Note  string // what the value means; where there is none, why, and what to shoot to get it
}

// Known reports whether the run could tell this quantity.
func (l Line) Known() bool { return l.Value != "" }

// Headline is the answer in one sentence, in three parts so that the value can stand out.
type Headline struct{ Before, Value, After string }

// String joins the parts.
func (h Headline) String() string {
	return strings.Join(strings.Fields(h.Before+" "+h.Value+" "+h.After), " ")
}

// Head says the most useful thing that the run could tell.
func Head(r calib.Result) Headline {
	switch f := r.Fit; {
	case f.Lag != nil:
		return Headline{"This rig fires", ms.plusMinus(f.Lag.Value, half(*f.Lag)), "after the beam is broken."}
	case len(f.Advance) == 1:
		m := f.Advance[0].Mean
		return Headline{"When the flash fires, the front end is", mm.plusMinus(m.Value, half(m)),
			"past " + countLine(r) + "."}
	case len(f.Advance) > 1:
		return Headline{"This run tells", "how far",
			"the front end gets before the flash, condition by condition, but not the lag."}
	}
	return Headline{"This run could not tell", "when the rig fires", "after the beam is broken."}
}

// Answer lists what the run could tell and what it could not, the most wanted first.
// Values carry expanded uncertainties or intervals of 95 % probability.
func Answer(r calib.Result) []Line {
	lines := []Line{lagLine(r), spreadLine(r), nextLine(r)}
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

func lagLine(r calib.Result) Line {
	l := Line{Key: "lag", Label: "Lag"}
	e := r.Fit.Lag
	if e == nil {
		l.Note = whyNoLag(r)
		return l
	}
	l.Value = ms.plusMinus(e.Value, half(*e))
	l.Note = fmt.Sprintf("from the broken beam to the flash, no delay added; 95 %% interval %s, standard "+
		"uncertainty %s",
		ms.span(e.Interval95), ms.at(e.U, e.U))
	return l
}

func spreadLine(r calib.Result) Line {
	l := Line{Key: "spread", Label: "Spread from shot to shot"}
	e := r.Fit.Spread
	switch {
	case e == nil && r.Fit.Lag == nil:
		l.Note = "needs the lag first"
	case e == nil:
		l.Note = "too few frames to tell the spread: shoot at least three more under equal conditions"
	case !(e.Interval95.Low > 0):
		l.Value = "below " + ms.at(e.Interval95.High, e.Interval95.High)
		l.Note = "with 95 % confidence; the frames' own reading errors explain all that varies, so the " +
			"spread may be zero"
	default:
		l.Value = ms.at(e.Value, half(*e))
		l.Note = "one standard deviation; 95 % interval " + ms.span(e.Interval95)
	}
	return l
}

func nextLine(r calib.Result) Line {
	l := Line{Key: "next_shot", Label: "The next shot's lag"}
	switch {
	case r.Fit.NextShot != nil:
		l.Value = ms.span(*r.Fit.NextShot)
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
func leadLine(r calib.Result) Line {
	e := r.Fit.Lag
	l := Line{Key: "lead", Label: "Lead of a subject at 1 m/s", Value: mm.plusMinus(e.Value, half(*e))}
	l.Note = "how far it has gone past the beam when the flash fires; in proportion at other speeds"
	if n := r.Fit.NextShot; n != nil {
		l.Note += "; the next shot " + mm.span(*n)
	}
	return l
}

func tripLine(r calib.Result) Line {
	l := Line{Key: "trip_offset", Label: "Where the beam really trips"}
	e := r.Fit.TripOffset
	switch {
	case e != nil:
		l.Value = mm.plusMinus(e.Value, half(*e))
		l.Note = "past " + countLine(r) + ", counted in the direction of travel"
		if r.CountLine != nil && r.Run.Trip == nil {
			l.Note += "; that line was laid where the beam was found to trip, and is drawn on the frames"
		}
	case r.Run.Trip != nil && (r.Run.Trip.Line != nil || r.Run.Trip.Still != ""):
		l.Value = "as given in [trip]"
		l.Note = "standard uncertainty " + mm.stated(r.Run.Trip.U) + "; two known speeds or more would check it"
	default:
		l.Note = "unknown: two known speeds or more tell it, or mark it with [trip] in run.toml"
	}
	return l
}

func countLine(r calib.Result) string {
	switch {
	case r.CountLine == nil:
		return "the zero of the readings made by hand"
	case r.Run.Trip == nil:
		return "the program's own counting line"
	}
	return "the trip line given"
}

func speedLines(r calib.Result) []Line {
	lines := twinLines(r)
	for _, s := range r.Fit.Speeds {
		l := Line{Key: "speed", Label: "Speed", Value: mps.plusMinus(s.Value, half(s.Estimate)),
			Note: "estimated from the delays"}
		if s.Group != "" {
			l.Label = "Speed of group " + s.Group
		}
		lines = append(lines, l)
	}
	return lines
}

// twinLines sums up the speeds that a twin flash measured.
func twinLines(r calib.Result) []Line {
	n, lo, hi, u := 0, math.Inf(1), math.Inf(-1), 0.0
	for _, f := range r.Frames {
		if f.Speed > 0 {
			n, lo, hi, u = n+1, min(lo, f.Speed), max(hi, f.Speed), max(u, f.SpeedU)
		}
	}
	if n == 0 {
		return nil
	}
	return []Line{{Key: "speed", Label: "Speeds by the twin flash", Value: mps.at(lo, u) + " to " + mps.at(hi, u),
		Note: fmt.Sprintf("at the trip point, of %s; each to %s (95 %%)", count(n, "frame"), mps.at(2*u, u))}}
}

func advanceLines(r calib.Result) []Line {
	var lines []Line
	for _, g := range r.Fit.Advance {
		l := Line{Key: "advance", Label: "Advance, " + groupName(g), Value: mm.plusMinus(g.Mean.Value, half(g.Mean))}
		l.Note = fmt.Sprintf("mean of %s past %s", count(g.N, "frame"), countLine(r))
		if t := g.Tolerance95; t != nil {
			l.Note += "; 95 % of shots lie within " + mm.span(*t) + " (95 % confidence)"
		}
		lines = append(lines, l)
	}
	return lines
}

func framesLine(r calib.Result) Line {
	read, refused, leftOut, outliers := tally(r)
	l := Line{Key: "frames", Label: "Frames", Value: fmt.Sprintf("%d of %d read", read, len(r.Frames))}
	notes := []string{fmt.Sprintf("%d refused, %d left out", refused, leftOut)}
	if outliers > 0 {
		notes = append(notes, count(outliers, "odd shot")+" given little or no weight")
	}
	l.Note = strings.Join(notes, "; ")
	return l
}

func tally(r calib.Result) (read, refused, leftOut, outliers int) {
	for _, f := range r.Frames {
		switch f.Status {
		case ruler.StatusRead:
			read++
			if f.Fit.Outlier {
				outliers++
			}
		case ruler.StatusRefused:
			refused++
		default:
			leftOut++
		}
	}
	return
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
