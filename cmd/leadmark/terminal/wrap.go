package terminal

import (
	"regexp"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"
)

// noBreak stands for a blank at which no line is broken: a letter that no text has, since spaces of
// all kinds are broken at.
const noBreak = "\uE000"

// unitGap is the space between a number and its unit, signGap that between a sign and its number.
var (
	unitGap = regexp.MustCompile(`(\d) (%|(?:[mµ]?s|[mµ]?m|m/s|px|stops?|degrees)\b)`)
	signGap = regexp.MustCompile(`± (\d)`)
)

// Wrap breaks a text into lines at blanks, never between a number and its unit. It measures what
// will be seen: the library takes escape sequences for colours, without width.
func Wrap(s string, width int) string {
	s = unitGap.ReplaceAllString(Escaped(s), "${1}"+noBreak+"${2}")
	s = signGap.ReplaceAllString(s, "±"+noBreak+"${1}")
	return strings.ReplaceAll(text.WrapSoft(s, width), noBreak, " ")
}
