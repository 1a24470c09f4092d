package rig

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A history of every version that was ever written lies in testdata/versions: all must be read for
// good. Behind a line of a later version nothing is added, for it cannot be told what is in force;
// nothing is changed either.
func TestEveryVersionOfAHistoryIsRead(t *testing.T) {
	// its first line is of before setups were written
	for name, entries := range map[string]int{"calibrations-1.jsonl": 2} {
		text, err := os.ReadFile(filepath.Join("testdata", "versions", name))
		if err != nil {
			t.Fatal(err)
		}
		if h := ParseHistory(text); len(h.Entries) != entries || len(h.Damaged) != 0 || len(h.Restores) != 1 {
			t.Errorf("%s: %+v", name, h)
		}
	}
	for _, line := range []string{`{"schema":"leadmark/result/2","accepted":7}`, `{"schema":"leadmark/restore/9"}`} {
		s, history := newStore(t)
		if err := os.WriteFile(history, []byte(line+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		h, err := s.History("greenhouse")
		if err != nil || len(h.Damaged) != 1 || !strings.Contains(h.Damaged[0].What, "later version") ||
			!strings.Contains(h.Damaged[0].What, "install") {
			t.Errorf("%s: %+v, %v", line, h, err)
		}
		if _, err := s.Append(t.Context(), "greenhouse", entry("x")); err == nil ||
			!strings.Contains(err.Error(), "later version") {
			t.Errorf("%s: %v", line, err)
		}
		if text, _ := os.ReadFile(history); string(text) != line+"\n" {
			t.Errorf("changed to %s", text)
		}
	}
}
