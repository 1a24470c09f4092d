package page

import (
	"math"
	"strconv"
	"strings"
	"time"

	"leadmark/calib"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/fit/unit"
	"leadmark/vision/ruler"
)

type rowView struct {
	ID, Name, Href, Status, Condition, Advance, U, Residual, Speed, Taken, Exposure, Reason string
	Outlier                                                                                 bool
}

func rowViews(r calib.Result, pictures []Picture) []rowView {
	var out []rowView
	day := commonDay(r)
	for _, i := range listed(r) {
		f := r.Frames[i]
		v := rowView{ID: frameID(i), Name: f.Name, Href: pictures[i].File, Status: statusWord(f),
			Outlier: f.Fit.Outlier, Reason: reasonText(f)}
		v.Condition = phrase.ConditionOf(f.Conditions).Name()
		if f.Status != ruler.StatusRead {
			v.Condition = ""
		} else {
			v.Advance, v.U = splitReading(f)
			if f.Speed > 0 {
				d := phrase.Decimals(2 * f.SpeedU)
				v.Speed = phrase.Digits(f.Speed, d) + " ± " + phrase.Digits(2*f.SpeedU, d)
			}
			if len(r.Fit.Shots) > 0 {
				v.Residual = phrase.Digits(f.Fit.Residual/phrase.MM.SI, phrase.Decimals(2*f.U/phrase.MM.SI))
			}
		}
		v.Taken, v.Exposure = takenText(f, day), exposureText(f)
		out = append(out, v)
	}
	return out
}

// splitReading is the advance and its expanded uncertainty in mm, without the unit that the
// column's head gives.
func splitReading(f calib.FrameResult) (advance, u string) {
	d := phrase.Decimals(2 * f.U / phrase.MM.SI)
	return phrase.Digits(f.Advance/phrase.MM.SI, d), phrase.Digits(2*f.U/phrase.MM.SI, d)
}

func reasonText(f calib.FrameResult) string {
	if f.Status != ruler.StatusRead {
		return words.Sentence(f.Reason)
	}
	notes := summary.ByHand(f)
	if f.Fit.Outlier {
		notes = append(notes, strings.TrimSuffix("odd shot: "+words.Sentence(f.Fit.Why), ": "))
	}
	for _, w := range f.Reading.Warnings {
		notes = append(notes, words.Sentence(w))
	}
	return strings.Join(notes, "; ")
}

// takenText is the time of a frame, the day left out where all share one.
func takenText(f calib.FrameResult, day string) string {
	switch {
	case f.Taken.IsZero():
		return ""
	case day != "":
		return f.Taken.Format("15:04:05")
	}
	return f.Taken.Format(time.DateTime)
}

// commonDay is the day on which all frames with a time were taken; "" where there is no one day.
func commonDay(r calib.Result) string {
	return common(r, func(f calib.FrameResult) string {
		if f.Taken.IsZero() {
			return ""
		}
		return f.Taken.Format("2 January 2006")
	})
}

// common is what text says alike of every frame of which it says anything; "" where it differs.
func common(r calib.Result, text func(calib.FrameResult) string) string {
	one := ""
	for _, f := range r.Frames {
		s := text(f)
		if one == "" {
			one = s
		}
		if s != "" && s != one {
			return ""
		}
	}
	return one
}

// exposureText says the exposure as photographers write it.
func exposureText(f calib.FrameResult) string {
	var parts []string
	if t := f.Exposure; t > 0 {
		if t < 0.3 {
			parts = append(parts, "1/"+strconv.Itoa(int(math.Round(1/t)))+" s")
		} else {
			parts = append(parts, strconv.FormatFloat(unit.Fixed(t, 1), 'f', -1, 64)+" s")
		}
	}
	if f.FNumber > 0 {
		parts = append(parts, "f/"+strconv.FormatFloat(unit.Fixed(f.FNumber, 1), 'f', -1, 64))
	}
	if f.ISO > 0 {
		parts = append(parts, "ISO "+strconv.Itoa(f.ISO))
	}
	return strings.Join(parts, ", ")
}

// differ tells whether the frames were not all exposed alike.
func differ(r calib.Result) bool {
	one := ""
	for _, f := range r.Frames {
		e := exposureText(f)
		if one == "" {
			one = e
		}
		if e != "" && e != one {
			return true
		}
	}
	return false
}
