package planprint

import (
	"fmt"
	"math"
	"strconv"

	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit/unit"
)

// line is one thing that a plan says.
func line(key, label, value, note string) phrase.Line {
	return phrase.Line{Key: key, Label: label, Value: value, Note: note}
}

// lengthText prints a planned length: three digits at most, and no finer than a tenth of a
// millimetre, which is more than a tripod is set to.
func lengthText(x float64) string {
	if a := math.Abs(x); a >= 1 {
		return unit.Plain(unit.Significant(x, 3), unit.Metre)
	} else if a >= 0.03 {
		return unit.Plain(math.Round(unit.Significant(x, 3)*1e3)/1e3, unit.Millimetre)
	}
	return unit.Plain(math.Round(x*1e4)/1e4, unit.Millimetre)
}

// spanText prints an interval of planned lengths, both ends alike.
func spanText(low, high float64) string {
	if max(math.Abs(low), math.Abs(high)) >= 0.03 {
		low, high = math.Round(low*1e3)/1e3, math.Round(high*1e3)/1e3
	}
	return lengthText(low+0) + " to " + lengthText(high+0)
}

// aboutMM prints a mean at the digits that the scatter about it leaves meaning to.
func aboutMM(mean, sd float64) string {
	if sd < 1e-3 {
		return lengthText(mean)
	}
	return unit.Quantity{Value: mean, U: max(sd, 1e-3), Unit: unit.Millimetre}.At()
}

// chanceText prints a probability in whole per cents, finer only near none and all.
func chanceText(p float64) string {
	switch q := min(p, 1-p); {
	case q <= 0 || q >= 0.0095:
		return strconv.FormatFloat(math.Round(p*100), 'f', -1, 64) + " %"
	case q >= 0.0005:
		return strconv.FormatFloat(math.Round(p*1000)/10, 'f', 1, 64) + " %"
	case p < 0.5:
		return "less than 0.1 %"
	}
	return "more than 99.9 %"
}

func percentSmall(u float64) string {
	return strconv.FormatFloat(max(unit.Significant(u*100, 1), 0.001), 'f', -1, 64) + " %"
}

// um prints a blur: two digits, for more no lens and no light is known.
func um(x float64) string { return unit.Plain(unit.Significant(x, 2), unit.Micrometre) }

func plainNumber(x float64) string { return strconv.FormatFloat(unit.Significant(x, 3), 'f', -1, 64) }

// magnificationText prints 0.226 as "0.226 (1 : 4.4)".
func magnificationText(m float64) string {
	if m >= 1 {
		return fmt.Sprintf("%s (%s : 1)", plainNumber(m), plainNumber(unit.Significant(m, 2)))
	}
	return fmt.Sprintf("%s (1 : %s)", plainNumber(m), plainNumber(unit.Significant(1/m, 2)))
}

func durationText(s float64) string { return unit.Plain(math.Round(s*1e4)/1e4, unit.Millisecond) }

// stopsText prints stops to a tenth.
func stopsText(x float64) string {
	return strconv.FormatFloat(math.Round(x*10)/10+0, 'f', 1, 64) + " stops"
}
