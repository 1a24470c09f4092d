package phrase

import "leadmark/fit"

// Lag is a lag with its expanded uncertainty.
func Lag(e fit.Estimate) string { return MS.PlusMinus(e.Value, Half(e)) }

// Spread is a spread with its 95 % interval.
func Spread(e fit.Estimate) string {
	return MS.At(e.Value, Half(e)) + " (" + MS.Span(e.Interval95) + ")"
}
