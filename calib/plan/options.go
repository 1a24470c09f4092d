package plan

import (
	"encoding/json"
	"fmt"
	"math"

	"leadmark/calib/input"
	"leadmark/calib/plan/predict"
	"leadmark/calib/plan/subject"
	"leadmark/calib/provenance"
	"leadmark/calib/rig"
	"leadmark/fit/note"
)

// How the camera may be held.
const (
	Landscape = "landscape"
	Portrait  = "portrait"
)

// Options are what a plan may be asked for. A zero stands for what is not stated, except in
// Probability, Draws and PrintLong, for which DefaultOptions has the values. Lengths in metres,
// times in seconds.
type Options struct {
	Probability float64  // that the reach holds the whole body
	Draws       int      // trips drawn
	Seed        uint64   // of the drawing
	Delay       *float64 // added delay in the place of the rig's
	FNumber     float64  // in the place of the one that balances best
	ISO         float64  // in the place of the camera's
	Exposure    float64  // shutter time in the place of the sync time
	Field       float64  // width of the field in the place of the smallest that holds the reach
	Orientation string   // Landscape, Portrait, or "" for the one that needs less
	PrintLong   float64  // long side of the print on which the blur is judged
	Moment      *float64 // where the nose is to be at the flash, along
	Colours     []RGB    // of the subject, for the backdrop
}

// DefaultOptions are the settings without any wish: a reach for 95 %, judged on a print 250 mm
// long, for which tables of depth of field are usually reckoned.
func DefaultOptions() Options {
	return Options{Probability: 0.95, Draws: 1 << 17, Seed: 1, PrintLong: 0.25}
}

// printBlur is the largest blur on a print that still counts as sharp, m: what an eye resolves at
// reading distance. Common practice, no source.
const printBlur = 0.2e-3

// Validate says which flag is out of range; an *input.Error, or several joined.
func (o Options) Validate() error {
	var wrong input.List
	check := func(flag string, x, scale float64, b input.Bounds) {
		if what := b.Check(x * scale); x != 0 && what != "" {
			wrong.Add(&input.Error{File: flag, What: what, Hint: "check the value and its unit"})
		}
	}
	if !(o.Probability >= 0.5 && o.Probability <= 0.999) {
		wrong.Add(&input.Error{File: "--probability",
			What: fmt.Sprintf("is %g; it must lie between 0.5 and 0.999", o.Probability),
			Hint: "0.95 holds the whole body in 19 trips of 20"})
	}
	check("--draws", float64(o.Draws), 1, input.Between(10_000, 1e7))
	check("--f-number", o.FNumber, 1, input.Between(0.5, 512))
	check("--iso", o.ISO, 1, input.Between(1, 1e7))
	check("--exposure-s", o.Exposure, 1, input.Above(0, 3600))
	check("--field-mm", o.Field, 1e3, input.Above(0, 1e5))
	check("--print-mm", o.PrintLong, 1e3, input.Between(10, 1e5))
	if o.Delay != nil {
		if what := input.Between(0, 60_000).Check(*o.Delay * 1e3); what != "" {
			wrong.Add(&input.Error{File: "--delay-ms", What: what})
		}
	}
	if o.Moment != nil {
		if what := input.Above(0, 1e5).Check(*o.Moment * 1e3); what != "" {
			wrong.Add(&input.Error{File: "--moment", What: what,
				Hint: "give the place past the trip point in millimetres"})
		}
	}
	if o.Orientation != "" && o.Orientation != Landscape && o.Orientation != Portrait {
		wrong.Add(&input.Error{File: "--orientation",
			What: fmt.Sprintf("is %q; it is landscape or portrait", o.Orientation)})
	}
	return wrong.Err("the command line")
}

// Request is all that a plan is made from.
type Request struct {
	Rig     rig.Profile // its zero value plans the reach alone
	Subject subject.Subject
	Lag     predict.Law
	Notes   []note.Note // what is known to be doubtful about the rig, such as an old calibration
	Options Options
	// what the command line said, by flag; for the document alone
	Settings map[string]string
}

// Digest is that of all that the plan is made from.
func (r Request) Digest() string {
	return input.Digest([]byte(r.Rig.Digest), []byte(r.Subject.Digest), []byte(fmt.Sprintf("%+v", r.Lag)),
		[]byte(fmt.Sprintf("%+v", WarningEntries(r.Notes))), r.Options.text())
}

// text is the options as bytes; those that cannot be planned with have none.
func (o Options) text() []byte {
	text, _ := json.Marshal(o)
	return text
}

func (r Request) made() provenance.Made { return provenance.Of(r.Digest(), r.Settings) }

// delay is the added delay that is planned with.
func (r Request) delay() float64 {
	if r.Options.Delay != nil {
		return *r.Options.Delay
	}
	return r.Rig.Trigger.Delay
}

// check refuses what cannot be planned with.
func (r Request) check() error {
	if err := r.Options.Validate(); err != nil {
		return err
	}
	l := r.Lag
	if !(l.Mean > 0) || !(l.Scale >= 0) || math.IsInf(l.Mean, 0) || math.IsInf(l.Scale, 0) {
		return &input.Error{What: fmt.Sprintf("a lag of %g ms with a spread of %g ms cannot be planned with",
			l.Mean*1e3, l.Scale*1e3), Hint: "the lag is above 0, its spread is not below 0"}
	}
	if s := r.Subject; s.Motion == subject.Table {
		last := l.Quantile(1-(1-r.Options.Probability)/10) + r.delay()
		if last > s.Course.End() {
			return &input.Error{File: s.CourseFile,
				What: fmt.Sprintf("ends %.4g ms after the trip, but the flash may fire as late "+
					"as %.4g ms after it", s.Course.End()*1e3, last*1e3),
				Hint: "measure the course for longer; nothing is made up beyond its end"}
		}
	}
	return nil
}
