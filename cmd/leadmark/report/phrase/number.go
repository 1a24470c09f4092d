package phrase

import (
	"math"
	"strconv"

	"leadmark/fit"
	"leadmark/fit/unit"
)

// Scale is a unit that results are shown in.
type Scale struct {
	SI   float64 // SI value of one of it
	Unit unit.Unit
}

// The units that results are shown in: milliseconds, millimetres, metres a second.
var (
	MS  = Scale{1e-3, unit.Millisecond}
	MM  = Scale{1e-3, unit.Millimetre}
	MPS = Scale{1, unit.MetrePerSecond}
)

// PlusMinus prints v ± half at the digits that half supports; what half is, the text around says.
func (s Scale) PlusMinus(v, half float64) string {
	return unit.Quantity{Value: v, U: half, Unit: s.Unit}.String()
}

// Span prints an interval.
func (s Scale) Span(iv fit.Interval) string { return unit.Span(iv.Low, iv.High, s.Unit) }

// At prints v at the digits that uncertainty u supports, without showing u.
func (s Scale) At(v, u float64) string {
	return unit.Quantity{Value: v, U: u, Unit: s.Unit}.At()
}

// Stated prints a value as somebody stated it, with all its digits: conditions that differ must
// not look alike.
func (s Scale) Stated(v float64) string {
	return strconv.FormatFloat(unit.Fixed(v/s.SI, 6), 'f', -1, 64) + " " + string(s.Unit)
}

// Decimals is how many digits after the point a column gives to a value of uncertainty u, as
// unit.Places has it; 3 where u says nothing.
func Decimals(u float64) int {
	if !(u > 0) || math.IsInf(u, 0) {
		return 3
	}
	return max(unit.Places(u), 0)
}

// Digits prints v with so many digits after the point, and nothing as nothing.
func Digits(v float64, places int) string {
	if s := strconv.FormatFloat(v, 'f', places, 64); unit.Fixed(v, places) != 0 {
		return s
	}
	return strconv.FormatFloat(0, 'f', places, 64)
}

// Half is the half width of an estimate's 95 % interval, its expanded uncertainty.
func Half(e fit.Estimate) float64 { return (e.Interval95.High - e.Interval95.Low) / 2 }
