package marks

import (
	"math"
	"sort"

	"leadmark/vision/marks/tiles"
	"leadmark/vision/pixel"
	"leadmark/vision/ruler"
)

// Detect finds the rows of graduations of a picture, the one with most of them first.
func Detect(p pixel.Pyramid, h ruler.Hint) []ruler.Row {
	var rows []ruler.Row
	d := detector{p: p, followed: map[groupKey]followed{}}
	for i, q := range tiles.Search(p, h, d.showsRuler) {
		if i == mostTries || len(rows) == mostRows {
			break
		}
		if covered(q, rows) {
			continue
		}
		if f, ok := d.findRow(q); ok {
			rows = append(rows, f.doubleFlash(f.row(p, h), h))
		}
	}
	sort.SliceStable(rows, func(a, b int) bool { return len(rows[a].Marks) > len(rows[b].Marks) })
	return rows
}

// covered says whether a group lies within a row already found, runs along it and has its pitch or a
// multiple: brushed steel has rows across its marks, and slats behind a ruler have their own.
func covered(q tiles.Group, rows []ruler.Row) bool {
	mid := q.Origin.Add(q.Dir.Mul((q.T0 + q.T1) / 2))
	for _, r := range rows {
		d := mid.Sub(r.Origin)
		t, w := r.Dir.Dot(d), r.Dir.Cross(d)
		within := r.Within(t) && math.Abs(w) < 2*r.HalfLength
		ratio := max(q.Pitch0/r.Pitch, r.Pitch/q.Pitch0)
		same := math.Abs(ratio-math.Round(ratio)) < ownPitch*ratio
		if math.Abs(r.Dir.Cross(q.Dir)) < alongARow && within && same {
			return true
		}
	}
	return false
}

// detector follows each group once.
type detector struct {
	p        pixel.Pyramid
	followed map[groupKey]followed
}

// groupKey tells groups apart.
type groupKey struct {
	level int
	at    ruler.Point
}

// followed is what came of a group.
type followed struct {
	finding
	ok bool
}

func (d detector) findRow(g tiles.Group) (finding, bool) {
	key := groupKey{g.Level, g.Origin}
	had, known := d.followed[key]
	if !known {
		if had.finding, had.ok = findRow(d.p, g); !had.ok {
			had = followed{} // its strip takes memory
		}
		d.followed[key] = had
	}
	return had.finding, had.ok
}

// showsRuler says whether one of the most promising groups is surely a long row of marks.
func (d detector) showsRuler(groups []tiles.Group) bool {
	for _, g := range groups[:min(promising, len(groups))] {
		if f, ok := d.findRow(g); ok && len(f.graduations) >= surelyARow {
			return true
		}
	}
	return false
}
