package main

import (
	"errors"
	"strings"
	"testing"

	"leadmark/calib/shoot"
)

// The study in short, without pictures: eight loops for each ratio. The second reach holds what it
// states and is no larger than it must be, as far as so few loops can tell; the first one, made for
// another speed, does not hold it.
func TestLoopInShort(t *testing.T) {
	var s study
	s.run(301, 8, 0)
	claims := s.claims()
	if err := s.report(t.Output(), claims); err != nil {
		t.Fatal(err)
	}
	for _, b := range claims.Broken() {
		t.Error(b)
	}
}

// A loop that teaches nothing counts against, unless it showed too little; so does one that ends in
// an error.
func TestNothingLearnedCounts(t *testing.T) {
	var s study
	few, enough := &loop{shown: fewestShown - 1}, &loop{shown: fewestShown}
	for _, l := range []*loop{few, enough} {
		if err := s.add(&s.simulated[0], l, shoot.Result{NotLearned: "why not"}); err != nil {
			t.Fatal(err)
		}
	}
	if got := s.simulated[0]; got.few != 1 || len(got.second) != 1 || got.second[0] != 0 {
		t.Errorf("%+v", got)
	}
	s.errors = append(s.errors, failure{"loop 7", errors.New("no such file")})
	if broken := strings.Join(s.claims().Broken(), "\n"); !strings.Contains(broken, "loop 7: no such file") {
		t.Error(broken)
	}
}
