package main

import "testing"

// TestStudyInShort is the study in small, on a seed of its own: four frames a class. It notices half of
// the frames lost, a tenth wrong, errors five times as large, and uncertainties that are a third or three
// times of what is true.
func TestStudyInShort(t *testing.T) {
	all, err := study(20264, 4)
	if err != nil {
		t.Fatal(err)
	}
	claims(all, true).Held(t)
}
