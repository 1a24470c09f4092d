package figure

import (
	"strings"
	"testing"

	"leadmark/cmd/leadmark/report/phrase"
	"leadmark/fit"
)

// A block's mean is of the shots that follow the others, so its title counts those, and tells of
// the odd ones.
func TestBlockTitleCountsWhatItsMeanIsOf(t *testing.T) {
	s := Shots{conds: []phrase.Condition{{}}, of: [][]shot{make([]shot, 7)}}
	g := &fit.AdvanceGroup{N: 6, SD: 2.6e-3, Mean: fit.Estimate{Value: 0.1144,
		Interval95: fit.Interval{Low: 0.1117, High: 0.1171}}}
	if got := blockTitle(s, 0, g, false); !strings.Contains(got, ": 6 frames and 1 odd, mean 114.4") {
		t.Error(got)
	}
}
