package fit

import "math"

// Odd says what the odd shots change: the estimates as reported, with those shots weighed down,
// beside the estimates with every shot counted in full.
type Odd struct {
	Shots       []int     // places in Run.Shots
	Lag         *Estimate // s, with every shot counted in full; nil when it cannot be told then
	Spread      *Estimate // s, likewise
	LagChange   float64   // s, Lag with every shot minus Result.Lag; 0 when either is missing
	SpreadRatio float64   // spread with every shot over Result.Spread; 0 when either is missing or nil
}

// oddChange fits once more with every shot counted in full; nil when no shot is odd.
func (s *solution) oddChange(know told, res Result) *Odd {
	out := &Odd{}
	for i, o := range s.odd {
		if o {
			out.Shots = append(out.Shots, i)
		}
	}
	if len(out.Shots) == 0 {
		return nil
	}
	with := s.judge(s.theta, make([]bool, len(s.odd)), nil)
	if !with.best.ok {
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

// finite is e unless one of its figures is not a number, as an absurd reading counted in full can make it.
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
