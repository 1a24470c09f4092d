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
	for i, q := range tiles.Search(p, h, func(found []tiles.Group) bool { return showsRuler(p, found) }) {
		if i == mostTries || len(rows) == mostRows {
			break
		}
		if covered(q, rows) {
			continue
		}
		if f, ok := findRow(p, q); ok {
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

// showsRuler says whether one of the most promising groups is surely a long row of marks.
func showsRuler(p pixel.Pyramid, groups []tiles.Group) bool {
	for _, g := range groups[:min(promising, len(groups))] {
		if f, ok := findRow(p, g); ok && len(f.graduations) >= surelyARow {
			return true
		}
	}
	return false
}
