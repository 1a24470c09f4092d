package main

import "testing"

// TestStudyInShort is the study on six sets of its own, 30 frames and 12 empty ones, and 10 of one
// blur alone: it notices a share that is a fifth below what is promised, a nose two pixels off, and
// each cause that is told for another. What chance may do to so few is allowed for.
func TestStudyInShort(t *testing.T) {
	r, err := look(301, 6, 1200)
	if err != nil {
		t.Fatal(err)
	}
	s := r.study(1200, 3.5)
	s.Held(t)
}
