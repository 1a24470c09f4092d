package words

import (
	"fmt"

	"leadmark/fit/unit"
)

// What a number in SI units is multiplied by to stand in a sentence in another unit.
const (
	asItIs  = 1
	milli   = 1e3
	micro   = 1e6
	percent = 100
)

// Percent is a chance in per cent for people to read, without an exponent: nobody acts on less than
// one in a thousand.
func Percent(p float64) string {
	switch share := percent * p; {
	case share < 0.1:
		return "less than 0.1 %"
	case share < 10:
		return fmt.Sprintf("%.1f %%", share)
	default:
		return fmt.Sprintf("%.0f %%", share)
	}
}

// twoDigits prints a factor to two digits, without an exponent.
func twoDigits(factor float64) string {
	return unit.Decimal(unit.Fixed(factor, max(unit.Places(factor), 0)))
}
