package record

import (
	"math"

	"leadmark/fit"
	"leadmark/fit/unit"
	"leadmark/vision/ruler"
)

// interval turns an interval into the thousandth part of its unit; nil where an end is not known.
func interval(i fit.Interval, places int) *[2]float64 {
	if !finite(i.Low) || !finite(i.High) {
		return nil
	}
	return &[2]float64{unit.Fixed(i.Low*1e3, places), unit.Fixed(i.High*1e3, places)}
}

func optional(x float64, places int) *float64 {
	if !finite(x) {
		return nil
	}
	return new(unit.Fixed(x, places))
}

func pixel(p ruler.Point) [2]float64 { return [2]float64{unit.Fixed(p.X, 2), unit.Fixed(p.Y, 2)} }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// milli is how many of the file's units make one SI unit, and the file's unit: lengths and times
// are in thousandths.
func milli(unit string) (scale float64, name string) {
	if unit == "m" || unit == "s" {
		return 1e3, "m" + unit
	}
	return 1, unit
}

// inUnit puts a standard uncertainty under the key of its unit.
func inUnit(u float64, unit string) (ms, mm float64) {
	if unit == "m" {
		return 0, tidy(u * 1e3)
	}
	return tidy(u * 1e3), 0
}

// tidy keeps three digits of what is itself an uncertainty or a share; 0 for what is no number.
func tidy(x float64) float64 {
	if !finite(x) {
		return 0
	}
	return unit.Significant(x, 3)
}

func some(x float64) *float64 {
	if !finite(x) {
		return nil
	}
	return new(unit.Significant(x, 3))
}

// freedom rounds degrees of freedom to three digits; 0, which is left out, where there is no
// number.
func freedom(df float64) float64 {
	if !finite(df) || df < 0 {
		return 0
	}
	return unit.Significant(df, 3)
}
