package record

import (
	"leadmark/fit"
	"leadmark/fit/unit"
)

// LagEntry is the lag in milliseconds.
type LagEntry struct {
	ValueMS    float64     `json:"value_ms"`
	UMS        float64     `json:"u_ms"`
	DF         float64     `json:"df,omitempty"` // effective degrees of freedom; absent in files older than this key
	Interval95 *[2]float64 `json:"interval95_ms,omitempty"`
}

// SpreadEntry is the shot-to-shot standard deviation of the lag in milliseconds.
type SpreadEntry struct {
	ValueMS    float64     `json:"value_ms"`
	DF         float64     `json:"df,omitempty"` // effective degrees of freedom; absent in files older than this key
	Interval95 *[2]float64 `json:"interval95_ms,omitempty"`
}

// Estimate is the lag in SI units. A file that states no degrees of freedom has them from its
// interval.
func (l LagEntry) Estimate() fit.Estimate {
	iv := seconds(l.Interval95, fit.Interval{Low: (l.ValueMS - 2*l.UMS) * 1e-3, High: (l.ValueMS + 2*l.UMS) * 1e-3})
	e := fit.FromInterval(l.ValueMS*1e-3, l.UMS*1e-3, iv)
	if l.DF > 0 {
		e.DF = l.DF
	}
	return e
}

// Estimate is the spread in SI units, its standard uncertainty from the interval.
func (s SpreadEntry) Estimate() fit.Estimate {
	e := fit.SpreadFromInterval(s.ValueMS*1e-3, seconds(s.Interval95, fit.Interval{High: s.ValueMS * 2e-3}))
	if s.DF > 0 {
		e.DF = s.DF
	}
	return e
}

func seconds(ms *[2]float64, otherwise fit.Interval) fit.Interval {
	if ms == nil {
		return otherwise
	}
	return fit.Interval{Low: ms[0] * 1e-3, High: ms[1] * 1e-3}
}

func lagEntry(e fit.Estimate) *LagEntry {
	p := unit.Decimals(e.U * 1e3)
	return &LagEntry{unit.Fixed(e.Value*1e3, p), unit.Fixed(e.U*1e3, p), freedom(e.DF), interval(e.Interval95, p)}
}

func spreadEntry(e fit.Estimate) *SpreadEntry {
	p := unit.Decimals(spreadU(e) * 1e3)
	return &SpreadEntry{unit.Fixed(e.Value*1e3, p), freedom(e.DF), interval(e.Interval95, p)}
}

// spreadU is the standard uncertainty of a spread, from its interval where none is stated.
func spreadU(e fit.Estimate) float64 {
	if e.U > 0 && finite(e.U) {
		return e.U
	}
	return (e.Interval95.High - e.Interval95.Low) / 4
}
