package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
)

// often is from which share of its comparisons within a quarter a limit is often near.
const often = 0.1

// verdict is what a pass says of a site.
type verdict struct {
	id            int
	site          site
	tally         tally
	reached, rare int      // frames in which it was met, and in which it went as it seldom does
	usual         bool     // what it is mostly
	frames        []string // those of rare
}

func (r *results) verdicts(s stored) (all []verdict) {
	for i, x := range s.Sites {
		v := verdict{id: i, site: x, tally: r.tallies[i]}
		yes, no := r.seen[i][1], r.seen[i][2]
		if v.frames = no; len(yes) < len(no) || len(yes) == len(no) && v.tally.True < v.tally.False {
			v.frames = yes
		} else {
			v.usual = true
		}
		both := map[string]bool{}
		for _, f := range append(slices.Clone(yes), no...) {
			both[f] = true
		}
		v.reached, v.rare = len(both), len(v.frames)
		all = append(all, v)
	}
	return all
}

// print writes the table: of each limit at each place where it is compared, how often it was true
// and false, how near it came, and in how many frames it decided otherwise than it mostly does.
func (r *results) table(w io.Writer, s stored) {
	all := r.verdicts(s)
	fmt.Fprintf(w, "%d frames\n", len(r.frames))
	part := func(title string, is func(v verdict) bool) {
		var list []verdict
		for _, v := range all {
			if is(v) {
				list = append(list, v)
			}
		}
		slices.SortStableFunc(list, func(a, b verdict) int { return cmp.Compare(b.tally.near(), a.tally.near()) })
		fmt.Fprintf(w, "\n%s: %d\n", title, len(list))
		fmt.Fprintf(w, "%5s %8s %8s %6s %6s %6s  %s\n", "site", "true", "false", "near", "frames", "rare", "where")
		for _, v := range list {
			fmt.Fprintf(w, "%5d %8d %8d %5.1f%% %6d %6d  %s %s: %s\n", v.id, v.tally.True, v.tally.False,
				100*v.tally.near(), v.reached, v.rare, v.site.At, v.site.In, v.site.Text)
		}
	}
	part("never met by these frames", func(v verdict) bool { return v.reached == 0 })
	part("always one way", func(v verdict) bool { return v.reached > 0 && v.rare == 0 })
	part("seldom the other way (1 frame in 100 or fewer)", func(v verdict) bool {
		return v.rare > 0 && 100*v.rare <= len(r.frames)
	})
	part("often within a quarter", func(v verdict) bool { return v.rare > 0 && v.tally.near() >= often })
}
