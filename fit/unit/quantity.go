package unit

import (
	"math"
	"strconv"
	"strings"
)

// Quantity is a value with its standard uncertainty, both in the SI base unit (or in Unit where
// that is none of this package's), and the unit it is shown in. U is 0 where no uncertainty is
// stated.
type Quantity struct {
	Value, U float64
	Unit     Unit
}

// String shows the quantity as "52.31 ms ± 0.18 ms", the form of NIST SP 811, 7.7. What stands
// behind the sign is U, a standard uncertainty: the GUM (7.2.2, note) asks to say so beside it,
// since readers expect an interval there. Without a stated uncertainty the value stands alone, with
// at most four digits.
func (q Quantity) String() string {
	v, u := q.Unit.Of(q.Value), q.Unit.Of(q.U)
	if !known(u) {
		return Plain(q.Value, q.Unit)
	}
	p := Places(u)
	return withUnit(fixed(v, p), q.Unit) + " ± " + withUnit(fixed(u, p), q.Unit)
}

// At shows the value alone, with the digits that its uncertainty supports.
func (q Quantity) At() string {
	u := q.Unit.Of(q.U)
	if !known(u) {
		return Plain(q.Value, q.Unit)
	}
	return withUnit(fixed(q.Unit.Of(q.Value), Places(u)), q.Unit)
}

// Span shows an interval, given in the SI base unit, as "51.94 ms to 52.68 ms"; its half width sets
// the digits.
func Span(low, high float64, in Unit) string {
	half := in.Of(high-low) / 2
	if !known(half) {
		return Plain(low, in) + " to " + Plain(high, in)
	}
	p := Places(half)
	return withUnit(fixed(in.Of(low), p), in) + " to " + withUnit(fixed(in.Of(high), p), in)
}

// Plain shows a value nobody gave an uncertainty for, with at most four significant digits and no
// trailing zeros.
func Plain(si float64, in Unit) string {
	return withUnit(strconv.FormatFloat(Significant(in.Of(si), 4), 'f', -1, 64), in)
}

// Places returns how many decimals a value of uncertainty u carries, so that u shows two
// significant digits (GUM, 7.2.6); below 0 where digits before the point are not supported either.
// u must be above 0 and finite.
func Places(u float64) int { return places(u, 2) }

// places is how many decimals show n significant digits of u, once it is rounded to them.
func places(u float64, n int) int {
	_, exponent, _ := strings.Cut(strconv.FormatFloat(u, 'e', n-1, 64), "e")
	e, _ := strconv.Atoi(exponent)
	return n - 1 - e
}

// known says whether u is an uncertainty that something can be rounded by.
func known(u float64) bool { return u > 0 && !math.IsInf(u, 0) }

// fixed writes v with the given decimals; below 0 it rounds to tens, hundreds and so on. It never
// writes "-0".
func fixed(v float64, places int) string {
	if places < 0 {
		p := math.Pow(10, float64(-places))
		v, places = math.Round(v/p)*p, 0
	}
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// withUnit puts a space before the unit's symbol, but none before the sign of degrees (SI Brochure,
// 5.4.3).
func withUnit(number string, u Unit) string {
	if u == "" {
		return number
	}
	return number + " " + string(u)
}
