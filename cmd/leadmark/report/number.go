package report

import (
	"math"
	"strconv"

	"leadmark/fit"
	"leadmark/fit/unit"
)

// scale is a unit that results are shown in.
type scale struct {
	si   float64 // SI value of one of it
	unit unit.Unit
}

var (
	ms  = scale{1e-3, unit.Millisecond}
	mm  = scale{1e-3, unit.Millimetre}
	mps = scale{1, unit.MetrePerSecond}
)

// plusMinus prints v ± half at the digits that half supports; what half is, the text around says.
func (s scale) plusMinus(v, half float64) string {
	return unit.Quantity{Value: v, U: half, Unit: s.unit}.String()
}

// span prints an interval.
func (s scale) span(iv fit.Interval) string { return unit.Span(iv.Low, iv.High, s.unit) }

// at prints v at the digits that uncertainty u supports, without showing u.
func (s scale) at(v, u float64) string {
	return unit.Quantity{Value: v, U: u, Unit: s.unit}.At()
}

// stated prints a value as somebody stated it, with all its digits: conditions that differ must
// not look alike.
func (s scale) stated(v float64) string {
	return strconv.FormatFloat(round(v/s.si, 6), 'f', -1, 64) + " " + string(s.unit)
}

// decimals is how many digits after the point a column gives to a value of uncertainty u, as
// unit.Places has it; 3 where u says nothing.
func decimals(u float64) int {
	if !(u > 0) || math.IsInf(u, 0) {
		return 3
	}
	return max(unit.Places(u), 0)
}

// digits prints v with so many digits after the point, and nothing as nothing.
func digits(v float64, places int) string {
	if s := strconv.FormatFloat(v, 'f', places, 64); round(v, places) != 0 {
		return s
	}
	return strconv.FormatFloat(0, 'f', places, 64)
}

// round takes away the last binary digits that a change of unit leaves behind.
func round(v float64, places int) float64 {
	p := math.Pow(10, float64(places))
	return math.Round(v*p) / p
}

// half is the half width of an estimate's 95 % interval, its expanded uncertainty.
func half(e fit.Estimate) float64 { return (e.Interval95.High - e.Interval95.Low) / 2 }
