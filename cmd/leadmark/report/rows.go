package report

import (
	"math"
	"strconv"
	"strings"
	"time"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/cmd/leadmark/report/summary"
	"leadmark/vision/ruler"
)

func rowViews(r calib.Result, pictures []picture) []rowView {
	out := make([]rowView, len(r.Frames))
	day := commonDay(r)
	for i, f := range r.Frames {
		v := rowView{ID: frameID(i), Name: f.Name, Href: pictures[i].file, Status: statusWord(f),
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
		out[i] = v
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
		return f.Reason.Text
	}
	notes := summary.ByHand(f)
	if f.Fit.Outlier {
		notes = append(notes, strings.TrimSuffix("odd shot: "+f.Fit.Why, ": "))
	}
	for _, w := range f.Reading.Warnings {
		notes = append(notes, w.Text)
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
			parts = append(parts, strconv.FormatFloat(phrase.Round(t, 1), 'f', -1, 64)+" s")
		}
	}
	if f.FNumber > 0 {
		parts = append(parts, "f/"+strconv.FormatFloat(phrase.Round(f.FNumber, 1), 'f', -1, 64))
	}
	if f.ISO > 0 {
		parts = append(parts, "ISO "+strconv.Itoa(f.ISO))
	}
	return strings.Join(parts, ", ")
}

func conditionViews(r calib.Result) []conditionView {
	var out []conditionView
	for _, g := range r.Fit.Advance {
		v := conditionView{Name: phrase.GroupName(g), N: strconv.Itoa(g.N), Mean: phrase.MM.PlusMinus(g.Mean.Value, phrase.Half(g.Mean))}
		if g.N > 1 && !math.IsNaN(g.SD) {
			v.SD = phrase.MM.At(g.SD, g.SD)
		}
		if g.Tolerance95 != nil {
			v.Tolerance = phrase.MM.Span(*g.Tolerance95)
		}
		out = append(out, v)
	}
	return out
}

// settings are what the run's own description says, each as it was stated.
func settings(r calib.Result) []phrase.Line {
	d := r.Run.Defaults
	var out []phrase.Line
	add := func(label, value string) { out = append(out, phrase.Line{Label: label, Value: value}) }
	known := func(label string, s phrase.Scale, v float64) {
		if v != 0 {
			add(label, s.Stated(v))
		}
	}
	if r.Run.Method != "" {
		add("Method", string(r.Run.Method))
	}
	if r.Run.Travel != "" {
		add("Travel in the picture", string(r.Run.Travel))
	}
	known("Finest graduation of the ruler", phrase.MM, r.Run.Ruler.Graduation)
	if f := r.Run.Ruler.Front; f != nil {
		add("Ruler's reading at its front end", phrase.MM.Stated(*f))
	}
	if r.Run.Ruler.Band {
		add("Mark looked for", "bold band, leading edge at "+phrase.MM.Stated(r.Run.Ruler.BandAt))
	}
	add("Trip place", tripSetting(r))
	if d.Gravity != 0 && r.Run.Method == runfile.Drop {
		add("Gravity", strconv.FormatFloat(phrase.Round(d.Gravity, 6), 'f', -1, 64)+" m/s²")
	}
	if e := common(r, exposureText); e != "" {
		add("Exposure of every frame", e)
	}
	if day := commonDay(r); day != "" {
		add("Taken on", day)
	}
	known("Uncertainty of each stated height", phrase.MM, d.DropU)
	known("Uncertainty of letting go", phrase.MM, d.DropShotU)
	known("Uncertainty shared by all heights", phrase.MM, d.DropCommonU)
	known("Uncertainty of the stated speed", phrase.MPS, d.SpeedU)
	return out
}

func tripSetting(r calib.Result) string {
	t := r.Run.Trip
	switch {
	case t == nil && r.CountLine == nil:
		return "advances read by hand, counted from the zero of those readings"
	case t == nil:
		return "not given; counted from the program's own line"
	case t.Still != "":
		return "front end resting in " + t.Still + ", standard uncertainty " + phrase.MM.Stated(t.U)
	}
	return "line given in the picture, standard uncertainty " + phrase.MM.Stated(t.U)
}

func methodOf(r calib.Result) methodView {
	m := methodView{Drop: r.Run.Method == runfile.Drop, Push: r.Run.Method == runfile.Push, Lag: r.Fit.Lag != nil}
	for _, g := range r.Fit.Advance {
		m.Tolerance = m.Tolerance || g.Tolerance95 != nil
		m.Advance = true
	}
	g := r.Run.Defaults.Gravity
	if g == 0 {
		g = phrase.StandardGravity
	}
	m.Gravity = strconv.FormatFloat(phrase.Round(g, 6), 'f', -1, 64)
	return m
}

// citation is what identifies this result.
func citation(r calib.Result, o Options) []phrase.Line {
	var out []phrase.Line
	add := func(label, value string) {
		if value != "" {
			out = append(out, phrase.Line{Label: label, Value: value})
		}
	}
	add("Rig", r.Rig)
	if !o.Made.IsZero() {
		add("Made", o.Made.Format("2 January 2006, 15:04 MST"))
	}
	add("Program", strings.TrimSpace("leadmark "+o.Version))
	add("Format", record.Schema)
	add("Run digest (SHA-256)", r.RunSHA256)
	return out
}
