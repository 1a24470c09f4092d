package ruler

import (
	"math"

	"leadmark/fit/note"
)

// samePlace is how far, in px, marks of one row may lie from those of another to be the same
// marks of a ruler that did not move. A moving one comes to rest that close to its last place
// once in tens of frames.
const samePlace = 0.5

// mostCompared is how many frames a row is compared with: each with each takes long in a run of
// thousands.
const mostCompared = 120

// Still tells the rows of a ruler that lies still in the scene from those of one that is let fall:
// they stand in the same place in several frames. It needs three frames to tell, and a row in three
// of them (or a third of the frames, where that is more).
type Still struct {
	some []Sighting
	need int
}

// LookForStill looks through a run of n frames, of a long one through a part that is large enough,
// evenly from all over it.
func LookForStill(n int, sighting func(k int) Sighting) Still {
	t := Still{some: make([]Sighting, min(n, mostCompared))}
	for k := range t.some {
		t.some[k] = sighting(k * n / len(t.some))
	}
	t.need = max(3, (len(t.some)+2)/3)
	return t
}

// Without returns a sighting of the run without the rows of rulers that lie still.
func (t Still) Without(s Sighting) Sighting {
	return s.keep(func(row Row) bool { return countSame(row, t.some) < t.need })
}

// WithoutRows returns a sighting without the rows that are the same as some known ones.
func (s Sighting) WithoutRows(known []Row) Sighting {
	if len(known) == 0 {
		return s
	}
	return s.keep(func(row Row) bool { return !isAmong(row, known) })
}

// keep returns a sighting with those of its rows alone that move.
func (s Sighting) keep(moves func(Row) bool) Sighting {
	rows := s.Rows
	s.Rows = nil
	for _, row := range rows {
		if moves(row) {
			s.Rows = append(s.Rows, row)
		}
	}
	if len(rows) > 0 && len(s.Rows) == 0 {
		s.Refusal = onlyStill()
	}
	return s
}

// WithoutStill returns the sightings of a run without the rows of rulers that lie still.
func WithoutStill(all []Sighting) []Sighting {
	still := LookForStill(len(all), func(k int) Sighting { return all[k] })
	out := make([]Sighting, len(all))
	for i, s := range all {
		out[i] = still.Without(s)
	}
	return out
}

// StillRows returns the rows that WithoutStill takes away, each once.
func StillRows(all, moving []Sighting) []Row {
	var out []Row
	for i, s := range all {
		for _, row := range s.Rows {
			if !isAmong(row, moving[i].Rows) && !isAmong(row, out) {
				out = append(out, row)
			}
		}
	}
	return out
}

func isAmong(row Row, rows []Row) bool {
	for _, r := range rows {
		if sameRow(row, r) {
			return true
		}
	}
	return false
}

func onlyStill() note.Note {
	return note.Of("no-ruler", "still")
}

// countSame counts the frames in which a row's marks stand where they stand in this one.
func countSame(row Row, all []Sighting) int {
	n := 0
	for _, s := range all {
		for _, other := range s.Rows {
			if sameRow(row, other) {
				n++
				break
			}
		}
	}
	return n
}

// sameRow says whether two rows are the same marks in the same place. Something may hide other
// parts of them in other frames. Marks repeat, so a ruler let fall again may show them at the same
// places along its axis, but its axis then lies a little aside.
func sameRow(a, b Row) bool {
	turn, stretch := max(0.02, loose(a), loose(b)), 0.01
	if few, many := min(len(a.Marks), len(b.Marks)), max(len(a.Marks), len(b.Marks)); 3*few < 2*many {
		stretch = 0.05 // of a row that is half hidden it is known less well
	}
	if math.Abs(a.Dir.Cross(b.Dir)) > turn || math.Abs(a.Pitch/b.Pitch-1) > stretch {
		return false
	}
	reach := a.HalfLength + b.HalfLength
	near, seen, aside := 0, 0, 0.0
	for _, k := range a.Marks {
		p := a.Origin.Add(a.Dir.Mul(k.T))
		if math.Abs(b.Dir.Cross(p.Sub(b.Origin))) > reach {
			return false
		}
		t := b.Along(p)
		if t < b.Marks[0].T-b.Pitch || t > b.Marks[len(b.Marks)-1].T+b.Pitch {
			continue
		}
		seen++
		aside += b.Dir.Cross(p.Sub(b.Origin))
		if nearest(b.Marks, t) < samePlace {
			near++
		}
	}
	return 2*seen >= len(a.Marks) && 10*near >= 8*seen && math.Abs(aside) < float64(seen)*(1.5+0.05*a.Pitch)
}

// loose is how far a row's axis may be turned, rad: it may leave the middle of the shortest marks
// by a quarter of their length at either end.
func loose(r Row) float64 {
	return 0.5 * r.HalfLength / max(r.Pitch, r.Marks[len(r.Marks)-1].T-r.Marks[0].T)
}

// nearest is the distance from t to the nearest mark.
func nearest(marks []Mark, t float64) float64 {
	lo, hi := 0, len(marks)-1
	for hi-lo > 1 {
		if m := (lo + hi) / 2; marks[m].T < t {
			lo = m
		} else {
			hi = m
		}
	}
	return math.Min(math.Abs(marks[lo].T-t), math.Abs(marks[hi].T-t))
}
