package main

import (
	"io"
	"testing"
)

// TestStudyInShort is the study in small, on a seed of its own: four pictures of every class, eight
// more of the clean one, and forty of no ruler. It notices a median error that is doubled, a front
// end three bounds further off, and uncertainties that are a third or three times of what is true.
// What chance may do to so few is allowed for.
func TestStudyInShort(t *testing.T) {
	o := options{seed: 20261, frames: 4, unreadable: 40, number: -1}
	r, err := study(o, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	o.class, o.seed, o.frames = "clean", 20262, 8
	more, err := study(o, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	r["clean"] = append(r["clean"], more["clean"]...)
	s := r.claims(3.5)
	s.Held(t)
}
