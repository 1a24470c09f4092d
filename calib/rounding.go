package calib

import (
	"math"
	"strconv"
)

// decimals is how many places after the point show three significant digits of u, and so what
// a value of standard uncertainty u supports with no loss in later sums (JCGM 100:2008, 7.2.6
// asks for at most two when a result is final). It is 6 where u says nothing.
func decimals(u float64) int {
	if !finite(u) || u <= 0 {
		return 6
	}
	return min(max(2-int(math.Floor(math.Log10(u))), 0), 12)
}

// round rounds to that many places after the point, half to even on the decimal value.
func round(x float64, places int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'f', places, 64), 64)
	if err != nil || y == 0 {
		return 0 // never -0
	}
	return y
}

// significant rounds to n significant digits.
func significant(x float64, n int) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', n, 64), 64)
	return y
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// decimal writes a number as files have it, without an exponent.
func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
