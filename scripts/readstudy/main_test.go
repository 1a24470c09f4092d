package main

import (
	"io"
	"testing"
)

// TestStudyInShort is the study in small, on a seed of its own: pictures of every class, and of no
// ruler. The limits are those of the whole study but for what a few frames can tell.
func TestStudyInShort(t *testing.T) {
	r, err := study(options{seed: 20261, frames: 4, unreadable: 40, number: -1}, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	var all []outcome
	for class, list := range r {
		if class == "none" {
			for _, x := range list {
				if x.read {
					t.Errorf("read where there is no ruler: %s", x)
				}
			}
			continue
		}
		all = append(all, list...)
	}
	f := rowOf(all)
	t.Logf("%d of %d read, %d wrong; advance %.4f, %.4f mm at 10 px/mm; front end %.2f px; error/u %.2f", f.read,
		f.frames, f.wrong,
		f.advance, f.advance95, f.front, f.robustU)
	if f.frames < 40 || f.wrong > 0 || float64(f.read) < 0.93*float64(f.frames) {
		t.Errorf("%d of %d readable frames were read, %d wrongly", f.read, f.frames, f.wrong)
	}
	if f.advance > 0.04 || f.advance95 > 0.15 || f.front > 0.3 {
		t.Error("want a median advance error of 0.04 mm, 95 of a hundred within 0.15 mm, a median front-end " +
			"error of 0.3 px")
	}
	if f.robustU < 0.5 || f.robustU > 1.6 { // of some forty frames
		t.Errorf("error/u has a spread of %.2f", f.robustU)
	}
}
