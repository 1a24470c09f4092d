package unit

import (
	"strconv"
)

// Numbers as files have them: never rounded so far that later sums suffer.

// Decimals is how many places after the point show three significant digits of u, and so what
// a value of standard uncertainty u supports with no loss in later sums (JCGM 100:2008, 7.2.6
// asks for at most two when a result is final). It is 6 where u says nothing.
func Decimals(u float64) int {
	if !known(u) {
		return 6
	}
	return min(max(places(u, 3), 0), 12)
}

// Fixed rounds to so many places after the point, half to even on the decimal value.
func Fixed(x float64, places int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'f', places, 64), 64)
	if err != nil || y == 0 {
		return 0 // never -0
	}
	return y
}

// Significant rounds to n significant digits.
func Significant(x float64, n int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', n, 64), 64)
	if err != nil || y == 0 {
		return 0 // never -0
	}
	return y
}

// Stated is a value that a person stated, without the noise of binary fractions.
func Stated(x float64) float64 { return Significant(x, 12) }

// Decimal writes a number without an exponent.
func Decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
