package rig

import (
	"leadmark/fit"
	"leadmark/fit/drift"
	"leadmark/fit/note"
)

// Chart is the calibrations of one set-up in the order they were accepted, as a control chart.
type Chart struct {
	Setup  Setup
	Points []ChartPoint
	// Control holds the limits; nil with fewer than three calibrations, from which none can be drawn.
	Control *drift.Chart
	Note    note.Note // what the chart says
}

// ChartPoint is one calibration on the chart.
type ChartPoint struct {
	Numbered
	Lag     fit.Estimate // s
	Out     note.Note    // what rule of the chart it breaks; the zero Note where it breaks none
	InForce bool         // it is the one of its set-up that holds
}

// Charts draws a control chart for each set-up, in the order of their first calibrations. Calibrations
// without a lag are passed over, and of several from one run only the last counts: they are not
// independent.
func (h History) Charts() []Chart {
	var all []Chart
	at := map[string]int{}
	for i, e := range h.Entries {
		key := e.On().key()
		if _, known := at[key]; !known {
			at[key] = len(all)
			all = append(all, Chart{Setup: e.On()})
		}
		if e.Lag == nil || h.repeated(i) {
			continue
		}
		c := &all[at[key]]
		c.Points = append(c.Points, ChartPoint{Numbered: Numbered{i + 1, e}, Lag: e.Lag.Estimate()})
	}
	for i := range all {
		h.control(&all[i])
	}
	return all
}

// repeated reports whether a later calibration is of the same run under the same set-up.
func (h History) repeated(i int) bool {
	for _, e := range h.Entries[i+1:] {
		if e.RunSHA256 != "" && e.RunSHA256 == h.Entries[i].RunSHA256 && e.Lag != nil &&
			e.On().Like(h.Entries[i].On()) {
			return true
		}
	}
	return false
}

func (h History) control(c *Chart) {
	values, own := make([]float64, len(c.Points)), make([]float64, len(c.Points))
	force, _ := h.InForceOn(c.Setup)
	for i, p := range c.Points {
		values[i], own[i] = p.Lag.Value, p.Lag.U
		c.Points[i].InForce = p.Number == force.Number
	}
	control, ok := drift.ControlChart(values, own)
	switch {
	case ok:
		c.Control, c.Note = &control, control.Note
		for i := range c.Points {
			c.Points[i].Out = control.Points[i].Out
		}
	case len(c.Points) == 0:
		c.Note = note.Of("chart", "empty")
	default:
		c.Note = note.Of("chart", "too-few")
	}
}
