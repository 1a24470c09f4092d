package tiles

import (
	"sort"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// Search searches the levels, from the coarsest on, and returns the groups, the most promising
// first. shown says whether the groups of a level show a ruler for sure.
func Search(p pixel.Pyramid, h ruler.Hint, shown func(found []Group) bool) []Group {
	var all []Group
	f := newTileFinder()
	last := 0
	for level := len(p.Levels) - 1; level >= last; level-- {
		if h.Pitch > 0 && !levelShows(p.Scale(level), h.Pitch) || Side*p.Scale(level)/minCycles < h.Least {
			continue
		}
		found := byRank(groupTiles(f.find(p, level, h)))
		all = append(all, found...)
		switch {
		case last > 0:
		case h.Coarse && shown(found):
			last = max(0, level-1) // half millimetres, or a second scale, may show there
		case h.Near != nil && len(found) > 0 && found[0].long():
			return found // where the ruler is known to be, one level will do
		}
	}
	return byRank(all)
}

func byRank(all []Group) []Group {
	sort.SliceStable(all, func(a, b int) bool { return all[a].rank() > all[b].rank() })
	return all
}

// levelShows says whether a pitch can stand out in the tiles of a level.
func levelShows(scale, pitch float64) bool {
	cycles := Side * scale / pitch
	return cycles > pitchLeast*minCycles && cycles < pitchMost*maxCycles
}
