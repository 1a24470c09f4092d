package terminal

import (
	"strings"
	"testing"
)

// SI Brochure, 9th edition, 5.4.3: number and unit stand together, a space between them; a line is
// not to part them.
func TestWrapKeepsUnitsWithNumbers(t *testing.T) {
	const s = "behind 0.6 %, ahead 0.7 %, below 0.2 %, above 0.3 %; good to ± 0.03 % at 12 µm, 1.2 m/s, 3 " +
		"stops and 45 ms (30 mm)"
	for width := 12; width < 60; width++ {
		got := Wrap(s, width)
		if flat := strings.Join(strings.Fields(got), " "); flat != s {
			t.Fatalf("width %d changed the text: %q", width, flat)
		}
		for line := range strings.SplitSeq(got, "\n") {
			line = strings.TrimSpace(line)
			if len([]rune(line)) > width {
				t.Errorf("width %d: %q is too long", width, line)
			}
			for _, lone := range []string{"%", "µm", "m/s", "stops", "ms", "mm"} {
				if strings.HasPrefix(line, lone) {
					t.Errorf("width %d: a line begins with a unit: %q", width, line)
				}
			}
			if strings.HasSuffix(line, "±") {
				t.Errorf("width %d: a line ends with the sign: %q", width, line)
			}
		}
	}
}
