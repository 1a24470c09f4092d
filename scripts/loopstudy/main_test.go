package main

import (
	"testing"

	"gonum.org/v1/gonum/stat"
)

// The study in short, without pictures: eight loops for each ratio. The second reach holds what it
// states as far as so few loops can tell, and the first one, made for another speed, does not.
func TestLoopInShort(t *testing.T) {
	var s study
	if err := s.run(301, 8, 0); err != nil {
		t.Fatal(err)
	}
	var all tally
	for i, ratio := range ratios {
		got := s.simulated[i]
		t.Logf("true/planned speed %.2f: inside the first reach %.3f, inside the second %.3f", ratio,
			stat.Mean(got.first, nil), stat.Mean(got.second, nil))
		all = all.with(got)
	}
	if !all.holds(s.stated) {
		t.Errorf("%d of %d first animals inside, stated %.2f", all.held, len(all.second), s.stated)
	}
	// three standard errors of 32 loops, whose shares scatter by 0.05
	if mean := stat.Mean(all.second, nil); mean < s.stated-0.03 {
		t.Errorf("the second reach holds %.3f, stated %.2f", mean, s.stated)
	}
	if mean := stat.Mean(all.first, nil); mean > 0.8 {
		t.Errorf("the first reach holds %.3f: nothing had to be learned", mean)
	}
}

// A share that is too small does not hold, one within chance does.
func TestHolds(t *testing.T) {
	for _, c := range []struct {
		held int
		want bool
	}{{95, true}, {91, true}, {85, false}} {
		if got := (tally{second: make([]float64, 100), held: c.held}).holds(0.95); got != c.want {
			t.Errorf("%d of 100 at 0.95: %v", c.held, got)
		}
	}
}
