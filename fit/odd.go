package fit

import "math"

// oddChange fits once more with every shot counted in full; nil when no shot is odd.
func (s *solution) oddChange(know told, res Result) *Odd {
	out := &Odd{}
	for i, o := range s.Odd {
		if o {
			out.Shots = append(out.Shots, i)
		}
	}
	if len(out.Shots) == 0 {
		return nil
	}
	with := s.judge(s.Theta, make([]bool, len(s.Odd)))
	if !with.Best.OK {
		return out
	}
	full := with.estimates(know)
	out.Lag, out.Spread = finite(full.Lag), finite(full.Spread)
	if res.Lag != nil && out.Lag != nil {
		out.LagChange = out.Lag.Value - res.Lag.Value
	}
	if res.Spread != nil && out.Spread != nil && res.Spread.Value > 0 {
		out.SpreadRatio = out.Spread.Value / res.Spread.Value
	}
	return out
}

// finite is e unless one of its figures is not a number, as an absurd reading counted in full can
// make it.
func finite(e *Estimate) *Estimate {
	if e == nil {
		return nil
	}
	for _, v := range []float64{e.Value, e.U, e.DF, e.Interval95.Low, e.Interval95.High} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil
		}
	}
	return e
}
