package page

import (
	"math"
	"strconv"

	"leadmark/calib"
	"leadmark/calib/record"
	"leadmark/calib/runfile"
	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit/unit"
)

type conditionView struct{ Name, N, Mean, SD, Tolerance string }

type methodView struct {
	Drop, Push, Lag, Tolerance, Advance bool
	Gravity                             string
}

// conditionViews are the first conditions.
func conditionViews(r calib.Result) []conditionView {
	var out []conditionView
	for _, g := range r.Fit.Advance[:min(len(r.Fit.Advance), mostEntries)] {
		v := conditionView{Name: phrase.GroupName(g), N: strconv.Itoa(g.N),
			Mean: phrase.MM.PlusMinus(g.Mean.Value, phrase.Half(g.Mean))}
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
		add("Gravity", strconv.FormatFloat(unit.Fixed(d.Gravity, 6), 'f', -1, 64)+" m/s²")
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
	m.Gravity = strconv.FormatFloat(unit.Fixed(g, 6), 'f', -1, 64)
	return m
}

// citation is what identifies this result.
func citation(r calib.Result, m Making) []phrase.Line {
	var out []phrase.Line
	add := func(label, value string) {
		if value != "" {
			out = append(out, phrase.Line{Label: label, Value: value})
		}
	}
	add("Rig", r.Rig)
	add("Made", m.time())
	add("Program", m.generator())
	add("Format", record.Schema)
	add("Run digest (SHA-256)", r.RunSHA256)
	add("From the command line", given(r.Run.Settings))
	return out
}
