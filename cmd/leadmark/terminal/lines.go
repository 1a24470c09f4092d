package terminal

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Printer prints lines and keeps the first error of many small writes.
type Printer struct {
	w   io.Writer
	err error
}

// NewPrinter prints lines to w.
func NewPrinter(w io.Writer) *Printer { return &Printer{w: w} }

// Err is the first error of all that was printed.
func (p *Printer) Err() error { return p.err }

// Linef prints a line.
func (p *Printer) Linef(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

// Sentence begins with a capital and ends with a full stop.
func Sentence(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + strings.TrimSuffix(s[n:], ".") + "."
}

// Hanging wraps a paragraph and indents its further lines.
func Hanging(indent, line string) string {
	const width = 96
	parts := strings.Split(Wrap(line, width), "\n")
	for i := range parts {
		parts[i] = indent + strings.TrimRight(parts[i], " ")
		if i > 0 {
			parts[i] = "  " + parts[i]
		}
	}
	return strings.Join(parts, "\n")
}
