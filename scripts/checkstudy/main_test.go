package main

import "testing"

// The study in short, on sets of its own: 3 sets, 15 frames and 6 empty ones. The limits are the
// promises', but for what so few frames can tell.
func TestStudyInShort(t *testing.T) {
	s := study{width: 1000}
	for seed := uint64(301); seed < 304; seed++ {
		if err := s.set(seed); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("\n%s", s.report())
	if s.found < s.frames || s.falseFinds > 0 || s.edgeRight < s.found {
		t.Error("found, false finds, or whole and cut")
	}
	if quantile(s.overlap, 0.5) < 0.93 || quantile(s.nose, 0.5) > 2 {
		t.Error("outline or nose")
	}
	if 10*s.motionRight < 7*s.motions || 10*s.causeRight < 7*s.causes { // of a dozen
		t.Error("motion blur or its cause")
	}
}
