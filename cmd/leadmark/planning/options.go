package planning

import (
	"fmt"
	"path/filepath"
	"strings"

	"leadmark/calib/input"
	"leadmark/calib/plan"
)

// Options are the flags of plan that do not stand for keys of subject.toml.
type Options struct {
	Rig, Subject, preset, write string
	presets, json, dark         bool
	figure, colour, colourFrom  string
	Lag, Spread                 float64 // ms
	Delay, moment               float64 // ms, mm
	field, print                float64 // mm
	Settings                    plan.Options
	overrides                   input.Overrides
	Given                       func(flag string) bool
	Stated                      map[string]string // the flags that were given, for the document
}

// Validate says what is wrong with the flags together.
func (o Options) Validate() error {
	switch {
	case o.Subject != "" && o.preset != "":
		return &input.Error{File: "--preset", What: "and --subject both say what the subject is",
			Hint: "keep one; --preset NAME --write FILE makes a file to edit"}
	case o.write != "" && o.preset == "":
		return &input.Error{File: "--write", What: "writes a preset to edit", Hint: "add --preset NAME"}
	case o.Given("lag-ms") != o.Given("spread-ms"):
		return &input.Error{File: "--lag-ms", What: "and --spread-ms go together",
			Hint: "a lag is assumed with its spread from shot to shot"}
	case o.Given("lag-ms") && !(o.Lag > 0 && o.Lag <= 60_000):
		return &input.Error{File: "--lag-ms", What: fmt.Sprintf("is %g; it must be above 0", o.Lag),
			Hint: "give it in milliseconds"}
	case o.Given("spread-ms") && !(o.Spread >= 0 && o.Spread <= 60_000):
		return &input.Error{File: "--spread-ms", What: fmt.Sprintf("is %g; it cannot be negative", o.Spread),
			Hint: "give it in milliseconds"}
	case o.Rig == "" && !o.Given("lag-ms"):
		return &input.Error{File: "--rig", What: "is not stated",
			Hint: "name a calibrated rig, or assume its lag: --lag-ms L --spread-ms S"}
	case o.dark && !strings.EqualFold(filepath.Ext(o.figure), ".png"):
		return &input.Error{File: "--dark", What: "is for a .png",
			Hint: "add --figure FILE.png; an .svg fits light and dark screens by itself"}
	}
	for _, v := range []struct {
		flag string
		x    float64
	}{{"field-mm", o.field}, {"print-mm", o.print}, {"f-number", o.Settings.FNumber}, {"iso", o.Settings.ISO},
		{"exposure-s", o.Settings.Exposure}} {
		if o.Given(v.flag) && !(v.x > 0) {
			return &input.Error{File: "--" + v.flag, What: fmt.Sprintf("is %g; it must be above 0", v.x),
				Hint: "check the value and its unit"}
		}
	}
	return figureKind(o.figure)
}
