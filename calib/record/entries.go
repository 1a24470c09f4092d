package record

import (
	"leadmark/fit"
	"leadmark/fit/unit"
)

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

// freedom rounds degrees of freedom to three digits; 0, which is left out, where there is no number.
func freedom(df float64) float64 {
	if !finite(df) || df < 0 {
		return 0
	}
	return unit.Significant(df, 3)
}
