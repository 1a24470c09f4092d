package page

import (
	"leadmark/calib"
	"leadmark/calib/words"
	"leadmark/cmd/leadmark/report/phrase"
)

// checkView is one test of whether the run has one lag.
type checkView struct {
	Name, Finding, Text string
	Alarm               bool
}

// checkViews puts the alarms first and what could not be tested last.
func checkViews(r calib.Result) []checkView {
	var alarms, fine, untested []checkView
	for _, c := range r.Fit.Checks {
		v := checkView{Name: checkName(c.Name), Text: phrase.Sentence(words.Sentence(c.Note)), Alarm: c.Alarm}
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
