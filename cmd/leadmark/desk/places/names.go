package places

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// PlainName says whether a name is one step of a path.
func PlainName(name string) bool {
	return utf8.ValidString(name) && name != "." && name != ".." && !strings.ContainsAny(name, `/\`) &&
		!strings.ContainsFunc(name, unicode.IsControl) && len(name) < 256
}

// NewName says whether a file or folder may be given a name: one that every system takes, and that
// is not hidden.
func NewName(name string) bool {
	return name != "" && PlainName(name) && !strings.HasPrefix(name, ".") && !strings.ContainsAny(name, `<>:"|?*`)
}
