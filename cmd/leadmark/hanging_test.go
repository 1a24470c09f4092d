package main

import (
	"strings"
	"testing"
)

// A number and its unit stay on one line, wherever the line breaks, and nothing is lost.
func TestNumbersKeepTheirUnits(t *testing.T) {
	for pad := range 90 {
		line := strings.Repeat("x", pad) + " falls to about 0.45 ms, which is 3 % of it"
		wrapped := hanging("  ", line)
		if !strings.Contains(wrapped, "0.45 ms") || !strings.Contains(wrapped, "3 %") {
			t.Errorf("%q", wrapped)
		}
		if strings.Join(strings.Fields(wrapped), " ") != strings.TrimSpace(line) {
			t.Errorf("%q became %q", line, wrapped)
		}
	}
}
