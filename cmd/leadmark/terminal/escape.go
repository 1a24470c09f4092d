package terminal

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// Writer passes text on and writes what would act on a terminal as an escape that can be
// seen: names and notes come from others, and a sequence in them could clear the screen, set its
// title or turn text around. All that is printed goes through it. Characters are escaped as JSON
// escapes them, so that a document printed keeps its values.
type Writer struct {
	mu   sync.Mutex
	w    io.Writer
	rest []byte // the beginning of a character whose end the next Write brings
}

// NewWriter makes what is written to w safe to be shown.
func NewWriter(w io.Writer) *Writer { return &Writer{w: w} }

// Write passes on what ends a character; the beginning of one waits for its end.
func (v *Writer) Write(p []byte) (int, error) {
	v.mu.Lock()
	defer v.mu.Unlock()
	text := append(v.rest, p...)
	whole := len(text) - unfinished(text)
	v.rest = append([]byte(nil), text[whole:]...)
	if _, err := io.WriteString(v.w, Escaped(string(text[:whole]))); err != nil {
		return 0, err
	}
	return len(p), nil
}

// unfinished is how many bytes at a text's end begin a character without ending it.
func unfinished(text []byte) int {
	for n := 1; n < utf8.UTFMax && n <= len(text); n++ {
		if b := text[len(text)-n:]; utf8.RuneStart(b[0]) {
			if utf8.FullRune(b) {
				return 0
			}
			return n
		}
	}
	return 0
}

// Escaped is a text with an escape for everything in it that acts on a terminal or cannot be seen.
func Escaped(text string) string {
	var out strings.Builder
	clean := 0 // up to where the text is in out
	for i, r := range text {
		size := utf8.RuneLen(r)
		broken := r == utf8.RuneError && !strings.HasPrefix(text[i:], string(utf8.RuneError))
		if broken {
			size = 1
		} else if !acts(r) {
			continue
		}
		out.WriteString(text[clean:i])
		clean = i + size
		switch high, low := utf16.EncodeRune(r); {
		case broken:
			fmt.Fprintf(&out, `\x%02x`, text[i])
		case r > 0xffff:
			fmt.Fprintf(&out, `\u%04x\u%04x`, high, low)
		default:
			fmt.Fprintf(&out, `\u%04x`, r)
		}
	}
	if clean == 0 {
		return text
	}
	out.WriteString(text[clean:])
	return out.String()
}

// acts says whether a character does something other than stand there: control codes (but line feed
// and tab), format characters, which turn text around or are nowhere seen, other separators of
// lines, and fillers without width (Unicode, general categories Cc, Cf, Zl and Zp, and
// Default_Ignorable_Code_Point).
func acts(r rune) bool {
	return r != '\n' && r != '\t' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp,
		unicode.Other_Default_Ignorable_Code_Point)
}
