package manual

import (
	"strings"
	"testing"
)

// What mdoc gives a meaning keeps none: a dot that begins a line, a backslash, the hyphens of an option.
func TestFilled(t *testing.T) {
	if got, want := filled(`.toml files. Not \d, but --json`), "\\&.toml files.\nNot \\ed, but "+
		"\\-\\-json\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	for line := range strings.Lines(filled(strings.Repeat("thirteen char ", 40))) {
		if len(line) > width+1 {
			t.Errorf("a line of %d characters: %q", len(line), line)
		}
	}
}
