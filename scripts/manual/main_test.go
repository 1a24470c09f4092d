package main

import (
	"os"
	"path/filepath"
	"testing"
)

// A page whose printed figure is another is told, and one that differs in a day alone is not.
func TestWriteTellsWhatChanged(t *testing.T) {
	const was = "| lag | 38.2 ms ± 1.2 ms | learned from 24 animals, 2026-11-28 |\n"
	path := filepath.Join(t.TempDir(), "page.md")
	if err := os.WriteFile(path, []byte(was), 0o666); err != nil {
		t.Fatal(err)
	}
	for text, changes := range map[string]bool{
		was: false,
		"| lag | 38.2 ms ± 1.2 ms | learned from 24 animals, 2026-12-01 |\n": false,
		"| lag | 31.2 ms ± 0.2 ms | learned from 24 animals, 2026-11-28 |\n": true,
	} {
		b := bench{check: true}
		if err := b.write(path, []byte(text)); err != nil || (len(b.changed) > 0) != changes {
			t.Errorf("%q: %v, %v", text, b.changed, err)
		}
	}
}
