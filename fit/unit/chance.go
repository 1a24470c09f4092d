package unit

import "fmt"

// Chance is a probability for people to read, to two digits and without an exponent: what is
// rarer than one in a thousand is told as that, as no model holds so far out in its tails.
func Chance(p float64) string {
	if p < 0.001 {
		return "below 0.001"
	}
	return fmt.Sprintf("%.2g", p)
}
