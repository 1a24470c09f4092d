package terminal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/jedib0t/go-pretty/v6/table"
)

// hostile is a name that sets a terminal's title, clears it, turns text around and holds bytes that
// are no text.
const hostile = "a\x1b]0;title\ab\x1b[2Jc\u202ed\x9be\r\u2066\u2028\u200b\u007f\u0085"

// hostileSeen is how it is printed.
const hostileSeen = `a\u001b]0;title\u0007b\u001b[2Jc\u202ed\x9be\u000d\u2066\u2028\u200b\u007f\u0085`

// harmless says whether a text holds nothing but characters that can be seen, blanks, tabs and line
// feeds.
func harmless(text string) bool {
	return utf8.ValidString(text) && !strings.ContainsFunc(text, func(r rune) bool {
		return r != '\n' && r != '\t' && !unicode.IsPrint(r) && !unicode.Is(unicode.Zs, r)
	})
}

func TestEscaped(t *testing.T) {
	for text, want := range map[string]string{
		"": "",
		"52.31 ± 0.18 ms, µm\tÄ 蜂 Пчела\n": "52.31 ± 0.18 ms, µm\tÄ 蜂 Пчела\n",
		hostile:          hostileSeen,
		"\xe2\x80":       `\xe2\x80`,
		"\ufffd":         "\ufffd",
		"\xed\xa0\x80":   `\xed\xa0\x80`, // half a pair of UTF-16 is no character
		"tag \U000e0041": `tag \udb40\udc41`,
		"\u061c\u200e\u200f\u202a\u2069\u2029\ufeff\u2060\u00ad\u034f\u3164": `\u061c\u200e\u200f\u202a\u2069\u2029\ufeff\u2060\u00ad\u034f\u3164`,
	} {
		if got := Escaped(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	for _, between := range [][2]rune{{0, '\b'}, {'\v', 0x1f}, {0x7f, 0x9f}, {0x200b, 0x200f}, {0x2028, 0x202e},
		{0x2060, 0x206f}} {
		for r := between[0]; r <= between[1]; r++ {
			if got := Escaped(string(r)); got != fmt.Sprintf(`\u%04x`, r) {
				t.Errorf("%U: %q", r, got)
			}
		}
	}
}

// A text comes through the same however it is cut, and what is harmless as it is.
func TestEscapingWriterPutsCutCharactersTogether(t *testing.T) {
	text := "name: " + hostile + " 蜂 \U000e0041 \xf0\x9f\x90 \u202e\n"
	for i := range len(text) + 1 {
		for j := i; j <= len(text); j++ {
			var out bytes.Buffer
			w := NewWriter(&out)
			for _, part := range []string{text[:i], text[i:j], text[j:]} {
				if n, err := io.WriteString(w, part); n != len(part) || err != nil {
					t.Fatalf("%d of %d bytes, %v", n, len(part), err)
				}
			}
			if out.String() != Escaped(text) {
				t.Fatalf("cut at %d and %d: %q, want %q", i, j, &out, Escaped(text))
			}
		}
	}
}

type brokenWriter struct{ err error }

func (b brokenWriter) Write([]byte) (int, error) { return 0, b.err }

func TestEscapingWriterTellsWhatWentWrong(t *testing.T) {
	full := errors.New("no space left")
	if n, err := io.WriteString(NewWriter(brokenWriter{full}), "text"); n != 0 || !errors.Is(err, full) {
		t.Errorf("%d, %v", n, err)
	}
}

// A document printed means what it meant.
func TestEscapedDocumentsKeepTheirValues(t *testing.T) {
	value := map[string]string{"note": strings.ToValidUTF8(hostile, "?") + `\` + "\u202e" + `"\u202e`,
		"\u202ekey": "\U000e0041"}
	var out bytes.Buffer
	if err := JSON(NewWriter(&out), value); err != nil {
		t.Fatal(err)
	}
	var got map[string]string
	if err := json.Unmarshal(out.Bytes(), &got); err != nil || !harmless(out.String()) {
		t.Fatalf("%v: %q", err, &out)
	}
	for k, v := range value {
		if got[k] != v {
			t.Errorf("%q: %q, want %q", k, got[k], v)
		}
	}
}

// Lines are broken and columns laid out by what is seen: a sequence in a name has width.
func TestHostileNamesAreMeasuredAsSeen(t *testing.T) {
	shown := Table()
	shown.AppendRows([]table.Row{{"\x1b[31mred\x1b[0m", "first"},
		{strings.Repeat("x", len(Escaped("\x1b[31mred\x1b[0m"))), "second"}, {"back\rover", "third"}})
	lines := strings.Split(shown.Render(), "\n")
	if a, b := strings.Index(lines[0], "first"), strings.Index(lines[1], "second"); a != b ||
		!strings.Contains(lines[2], `back\u000dover`) {
		t.Errorf("columns begin at %d and %d:\n%s", a, b, strings.Join(lines, "\n"))
	}
	for _, line := range strings.Split(Wrap("\x1b[31m"+strings.Repeat("word ",
		20)+"\x1b]0;"+strings.Repeat("title ", 20), 30), "\n") {
		if len(Escaped(line)) > 30 || strings.Contains(line, "\x1b[0m") {
			t.Errorf("%q is wider than 30", line)
		}
	}
}
