package phrase

import "regexp"

var (
	unitGap  = regexp.MustCompile(`(\d) (ms\b|mm\b|m/s\b|px\b|µs\b|%)`)
	plusGap  = regexp.MustCompile(` ± `)
	negative = regexp.MustCompile(`(^|[\s(±])-(\d)`)
)

// Typeset keeps numbers and their units on one line and gives negative numbers a true minus.
func Typeset(s string) string {
	s = unitGap.ReplaceAllString(s, "$1\u00a0$2")
	s = plusGap.ReplaceAllString(s, "\u00a0±\u00a0")
	return negative.ReplaceAllString(s, "$1\u2212$2")
}
