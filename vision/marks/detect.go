package marks

import (
	"math"
	"sort"

	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

const (
	mostTries = 12 // groups followed in one picture
	mostRows  = 4  // rows handed on
)

// Detect finds the rows of graduations of a picture, the one with most of them first.
func Detect(p pixel.Pyramid, h ruler.Hint) []ruler.Row {
	var rows []ruler.Row
	for i, q := range findGroups(p, h) {
		if i == mostTries || len(rows) == mostRows {
			break
		}
		if covered(q, rows) {
			continue
		}
		if f, ok := findRow(p, q); ok {
			rows = append(rows, f.twinned(f.row(p, h), h))
		}
	}
	sort.SliceStable(rows, func(a, b int) bool { return len(rows[a].Marks) > len(rows[b].Marks) })
	return rows
}

// covered says whether a group lies within a row already found, and runs along it: brushed steel
// has rows across its marks.
func covered(q group, rows []ruler.Row) bool {
	const across = 0.7
	mid := q.origin.Add(q.dir.Mul((q.t0 + q.t1) / 2))
	for _, r := range rows {
		d := mid.Sub(r.Origin)
		t, w := r.Dir.Dot(d), r.Dir.Cross(d)
		within := t > r.Marks[0].T && t < r.Marks[len(r.Marks)-1].T && w*w < 4*r.HalfLength*r.HalfLength
		if math.Abs(r.Dir.Cross(q.dir)) < across && within {
			return true
		}
	}
	return false
}

// findGroups searches the levels, from the coarsest on, and returns the groups, the most promising
// first.
func findGroups(p pixel.Pyramid, h ruler.Hint) []group {
	var all []group
	f := newTileFinder()
	last := 0
	for level := len(p.Levels) - 1; level >= last; level-- {
		if h.Pitch > 0 && !levelShows(p.Scale(level), h.Pitch) {
			continue
		}
		found := byRank(groupTiles(f.find(p, level, h)))
		all = append(all, found...)
		switch {
		case last > 0:
		case h.Coarse && showsRuler(p, found):
			last = max(0, level-1) // half millimetres, or a second scale, may show there
		case h.Near != nil && len(found) > 0 && found[0].long():
			return found // where the ruler is known to be, one level will do
		}
	}
	return byRank(all)
}

func byRank(all []group) []group {
	sort.SliceStable(all, func(a, b int) bool { return all[a].rank() > all[b].rank() })
	return all
}

// showsRuler says whether one of the most promising groups is surely a long row of marks.
func showsRuler(p pixel.Pyramid, groups []group) bool {
	const tries, surely = 3, 25
	for _, g := range groups[:min(tries, len(groups))] {
		if f, ok := findRow(p, g); ok && len(f.graduations) >= surely {
			return true
		}
	}
	return false
}

// levelShows says whether a pitch can stand out in the tiles of a level.
func levelShows(scale, pitch float64) bool {
	cycles := tileSide * scale / pitch
	return cycles > 0.75*minCycles && cycles < 1.33*maxCycles
}
