package frame

import (
	"cmp"
	"strings"
)

// CompareNames orders file names as a person counts them: runs of digits by their number
// (IMG_9 before IMG_10), letters without regard to case. Names that are equal so far are ordered by
// their leading zeros and then byte by byte, so that the order is total and the same everywhere.
// It returns -1, 0 or 1.
func CompareNames(a, b string) int {
	s, t := strings.ToLower(a), strings.ToLower(b)
	zeros := 0
	for s != "" && t != "" {
		if !isDigit(s[0]) || !isDigit(t[0]) {
			if s[0] != t[0] {
				return cmp.Compare(s[0], t[0])
			}
			s, t = s[1:], t[1:]
			continue
		}
		var m, n string
		m, s = cutNumber(s)
		n, t = cutNumber(t)
		if c := compareNumbers(m, n); c != 0 {
			return c
		}
		if zeros == 0 {
			zeros = cmp.Compare(len(m), len(n))
		}
	}
	return cmp.Or(cmp.Compare(len(s), len(t)), zeros, strings.Compare(a, b))
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// cutNumber splits off the run of digits that s begins with.
func cutNumber(s string) (number, rest string) {
	i := 0
	for i < len(s) && isDigit(s[i]) {
		i++
	}
	return s[:i], s[i:]
}

// compareNumbers compares two runs of digits of any length as numbers.
func compareNumbers(m, n string) int {
	m, n = strings.TrimLeft(m, "0"), strings.TrimLeft(n, "0")
	return cmp.Or(cmp.Compare(len(m), len(n)), strings.Compare(m, n))
}
