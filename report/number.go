package report

import (
	"math"
	"strconv"

	"leadmark/fit"
)

// scale is a unit at the edge: SI value = shown value * si.
type scale struct {
	si   float64
	name string
}

var (
	ms  = scale{1e-3, "ms"}
	mm  = scale{1e-3, "mm"}
	mps = scale{1, "m/s"}
)

// decimals is how many digits after the point a value of uncertainty u carries: two significant
// digits of u (GUM, JCGM 100:2008, 7.2.6: at most two), the rule of package unit.
func decimals(u float64) int {
	if !(u > 0) || math.IsInf(u, 0) {
		return 3
	}
	e := int(math.Floor(math.Log10(u)))
	if u/math.Pow(10, float64(e)) >= 9.95 { // rounds up to 10
		e++
	}
	return min(max(1-e, 0), 6)
}

func digits(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if f, err := strconv.ParseFloat(s, 64); err == nil && f == 0 {
		return strconv.FormatFloat(0, 'f', places, 64) // no "-0.0"
	}
	return s
}

// plusMinus prints v ± half, both in SI, at the digits that half supports.
func (s scale) plusMinus(v, half float64) string {
	h := half / s.si
	if !(h > 0) || math.IsInf(h, 0) {
		return s.plain(v)
	}
	d := decimals(h)
	return digits(v/s.si, d) + " " + s.name + " ± " + digits(h, d) + " " + s.name
}

// span prints an interval; its digits follow from its width.
func (s scale) span(iv fit.Interval) string {
	d := decimals((iv.High - iv.Low) / 2 / s.si)
	return digits(iv.Low/s.si, d) + " " + s.name + " to " + digits(iv.High/s.si, d) + " " + s.name
}

// at prints v at the digits that uncertainty u supports, without showing u.
func (s scale) at(v, u float64) string { return digits(v/s.si, decimals(u/s.si)) + " " + s.name }

// plain prints a stated value, one nobody gave an uncertainty for, as it was stated.
func (s scale) plain(v float64) string {
	return strconv.FormatFloat(round(v/s.si, 6), 'f', -1, 64) + " " + s.name
}

// round takes away the last binary digits that a change of unit leaves behind.
func round(v float64, places int) float64 {
	p := math.Pow(10, float64(places))
	return math.Round(v*p) / p
}

// half is the half width of an estimate's 95 % interval, its expanded uncertainty.
func half(e fit.Estimate) float64 { return (e.Interval95.High - e.Interval95.Low) / 2 }
