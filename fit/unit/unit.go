package unit

import (
	"math"
	"strings"
)

// Unit is what a number is shown or written in, by its symbol. Any other symbol may stand in a Quantity: its
// value is then shown as it is.
type Unit string

// The units of formats.md, and those that people measure with.
const (
	Metre            Unit = "m"
	Centimetre       Unit = "cm"
	Millimetre       Unit = "mm"
	Micrometre       Unit = "µm"
	Inch             Unit = "in"
	Foot             Unit = "ft"
	Second           Unit = "s"
	Millisecond      Unit = "ms"
	Microsecond      Unit = "µs"
	MetrePerSecond   Unit = "m/s"
	KilometrePerHour Unit = "km/h"
	Radian           Unit = "rad"
	Degree           Unit = "°"
	Pixel            Unit = "px"
)

// Kind is what is measured.
type Kind string

// The kinds that Parse knows.
const (
	Length Kind = "length"
	Time   Kind = "time"
	Speed  Kind = "speed"
	Angle  Kind = "angle"
)

// of returns the units of a kind, the likeliest first.
func of(k Kind) []Unit {
	switch k {
	case Length:
		return []Unit{Millimetre, Centimetre, Metre, Micrometre, Inch, Foot}
	case Time:
		return []Unit{Millisecond, Second, Microsecond}
	case Speed:
		return []Unit{MetrePerSecond, KilometrePerHour}
	case Angle:
		return []Unit{Degree, Radian}
	}
	return nil
}

// kindOf returns what u measures; the empty Kind for a unit not listed here.
func kindOf(u Unit) Kind {
	for _, k := range []Kind{Length, Time, Speed, Angle} {
		for _, v := range of(k) {
			if u == v {
				return k
			}
		}
	}
	return ""
}

// SI returns v, a number in u, in the SI base unit (m, s, m/s or rad); unchanged for a unit not listed here.
// An inch is 25.4 mm and a foot 0.3048 m exactly (NIST SP 811, B.8); a degree pi/180 rad (SI Brochure, table 8).
func (u Unit) SI(v float64) float64 {
	num, den := u.ratio()
	return v * num / den
}

// Of returns si, a number in the SI base unit, in u.
func (u Unit) Of(si float64) float64 {
	num, den := u.ratio()
	return si * den / num
}

// ratio returns the unit in SI base units as a quotient of two numbers that are exact, so that 25.4 mm is 1 in to the last bit.
func (u Unit) ratio() (num, den float64) {
	switch u {
	case Centimetre:
		return 1, 100
	case Millimetre, Millisecond:
		return 1, 1000
	case Micrometre, Microsecond:
		return 1, 1e6
	case Inch:
		return 254, 10_000
	case Foot:
		return 3048, 10_000
	case KilometrePerHour:
		return 10, 36
	case Degree:
		return math.Pi, 180
	}
	return 1, 1
}

// unitOf reads a unit as people write it: the symbol, or one of a few spellings for keyboards without µ and °.
func unitOf(text string) (Unit, bool) {
	u := Unit(strings.Replace(text, "\u03bc", "µ", 1)) // the Greek letter looks the same
	switch u {
	case "um":
		u = Micrometre
	case "us":
		u = Microsecond
	case "inch", "inches", `"`:
		u = Inch
	case "deg":
		u = Degree
	}
	return u, kindOf(u) != ""
}
