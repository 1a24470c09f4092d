package report

import (
	"math"
	"strconv"
	"strings"
	"time"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/calib/runfile"
	"leadmark/vision/ruler"
)

func rowViews(r calib.Result, pictures []picture) []rowView {
	out := make([]rowView, len(r.Frames))
	day := commonDay(r)
	for i, f := range r.Frames {
		v := rowView{ID: frameID(i), Name: f.Name, Href: pictures[i].file, Status: statusWord(f),
			Outlier: f.Fit.Outlier, Reason: reasonText(f)}
		v.Condition = conditionOf(f.Conditions).name()
		if f.Status != ruler.StatusRead {
			v.Condition = ""
		} else {
			v.Advance, v.U = splitReading(f)
			if f.Speed > 0 {
				d := decimals(2 * f.SpeedU)
				v.Speed = digits(f.Speed, d) + " ± " + digits(2*f.SpeedU, d)
			}
			if len(r.Fit.Shots) > 0 {
				v.Residual = digits(f.Fit.Residual/mm.si, decimals(2*f.U/mm.si))
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
	d := decimals(2 * f.U / mm.si)
	return digits(f.Advance/mm.si, d), digits(2*f.U/mm.si, d)
}

func reasonText(f calib.FrameResult) string {
	if f.Status != ruler.StatusRead {
		return f.Reason.Text
	}
	notes := byHand(f)
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
			parts = append(parts, strconv.FormatFloat(round(t, 1), 'f', -1, 64)+" s")
		}
	}
	if f.FNumber > 0 {
		parts = append(parts, "f/"+strconv.FormatFloat(round(f.FNumber, 1), 'f', -1, 64))
	}
	if f.ISO > 0 {
		parts = append(parts, "ISO "+strconv.Itoa(f.ISO))
	}
	return strings.Join(parts, ", ")
}

func conditionViews(r calib.Result) []conditionView {
	var out []conditionView
	for _, g := range r.Fit.Advance {
		v := conditionView{Name: groupName(g), N: strconv.Itoa(g.N), Mean: mm.plusMinus(g.Mean.Value, half(g.Mean))}
		if g.N > 1 && !math.IsNaN(g.SD) {
			v.SD = mm.at(g.SD, g.SD)
		}
		if g.Tolerance95 != nil {
			v.Tolerance = mm.span(*g.Tolerance95)
		}
		out = append(out, v)
	}
	return out
}

// settings are what the run's own description says, each as it was stated.
func settings(r calib.Result) []Line {
	d := r.Run.Defaults
	var out []Line
	add := func(label, value string) { out = append(out, Line{Label: label, Value: value}) }
	known := func(label string, s scale, v float64) {
		if v != 0 {
			add(label, s.stated(v))
		}
	}
	if r.Run.Method != "" {
		add("Method", string(r.Run.Method))
	}
	if r.Run.Travel != "" {
		add("Travel in the picture", string(r.Run.Travel))
	}
	known("Finest graduation of the ruler", mm, r.Run.Ruler.Graduation)
	if f := r.Run.Ruler.Front; f != nil {
		add("Ruler's reading at its front end", mm.stated(*f))
	}
	if r.Run.Ruler.Band {
		add("Mark looked for", "bold band, leading edge at "+mm.stated(r.Run.Ruler.BandAt))
	}
	add("Trip place", tripSetting(r))
	if d.Gravity != 0 && r.Run.Method == runfile.Drop {
		add("Gravity", strconv.FormatFloat(round(d.Gravity, 6), 'f', -1, 64)+" m/s²")
	}
	if e := common(r, exposureText); e != "" {
		add("Exposure of every frame", e)
	}
	if day := commonDay(r); day != "" {
		add("Taken on", day)
	}
	known("Uncertainty of each stated height", mm, d.DropU)
	known("Uncertainty of letting go", mm, d.DropShotU)
	known("Uncertainty shared by all heights", mm, d.DropCommonU)
	known("Uncertainty of the stated speed", mps, d.SpeedU)
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
		return "front end resting in " + t.Still + ", standard uncertainty " + mm.stated(t.U)
	}
	return "line given in the picture, standard uncertainty " + mm.stated(t.U)
}

func methodOf(r calib.Result) methodView {
	m := methodView{Drop: r.Run.Method == runfile.Drop, Push: r.Run.Method == runfile.Push, Lag: r.Fit.Lag != nil}
	for _, g := range r.Fit.Advance {
		m.Tolerance = m.Tolerance || g.Tolerance95 != nil
		m.Advance = true
	}
	g := r.Run.Defaults.Gravity
	if g == 0 {
		g = standardGravity
	}
	m.Gravity = strconv.FormatFloat(round(g, 6), 'f', -1, 64)
	return m
}

// citation is what identifies this result.
func citation(r calib.Result, o Options) []Line {
	var out []Line
	add := func(label, value string) {
		if value != "" {
			out = append(out, Line{Label: label, Value: value})
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

// byHand says what a person changed in a frame that was read.
func byHand(f calib.FrameResult) []string {
	var notes []string
	for _, kind := range f.Corrected {
		switch kind {
		case runfile.CorrectedFront:
			notes = append(notes, "front end placed by hand")
		case runfile.CorrectedRuler:
			notes = append(notes, "ruler marked by hand")
		}
	}
	return notes
}
