package phrase

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sentence begins with a capital and ends with a full stop.
func Sentence(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return ""
	}
	s = string(unicode.ToUpper(first)) + s[n:]
	if !strings.ContainsRune(".!?", rune(s[len(s)-1])) {
		s += "."
	}
	return s
}

// Count is a number of things: "1 frame", "2 frames".
func Count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
