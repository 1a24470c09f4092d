package ruler

import "math"

// samePlace is how far, in px, marks of one row may lie from those of another to be the same
// marks of a ruler that did not move. A moving one comes to rest that close to its last place
// once in tens of frames.
const samePlace = 0.5

// WithoutStill returns the sightings without rows that stand in the same place in several
// frames: a ruler lying in the scene is not the one that is let fall. It needs three frames to
// tell, and three sights of a row (or a third of the frames, where that is more); of a long run
// a part is held against, from all over it.
func WithoutStill(all []Sighting) []Sighting {
	some := spread(all)
	need := max(3, (len(some)+2)/3)
	out := make([]Sighting, len(all))
	for i, s := range all {
		out[i] = s
		out[i].Rows = nil
		for _, row := range s.Rows {
			if countSame(row, some) < need {
				out[i].Rows = append(out[i].Rows, row)
			}
		}
		if len(s.Rows) > 0 && len(out[i].Rows) == 0 {
			out[i].Refusal = onlyStill()
		}
	}
	return out
}

// mostHeld is how many frames a row is held against: each against each takes long in a run of thousands.
const mostHeld = 120

// spread is a part of a run's sightings that is large enough, evenly from all over it.
func spread(all []Sighting) []Sighting {
	if len(all) <= mostHeld {
		return all
	}
	out := make([]Sighting, mostHeld)
	for k := range out {
		out[k] = all[k*len(all)/mostHeld]
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

// WithoutRows returns the sightings without the rows that are the same as some known ones.
func WithoutRows(all []Sighting, known []Row) []Sighting {
	if len(known) == 0 {
		return all
	}
	out := make([]Sighting, len(all))
	for i, s := range all {
		out[i] = s
		out[i].Rows = nil
		for _, row := range s.Rows {
			if !isAmong(row, known) {
				out[i].Rows = append(out[i].Rows, row)
			}
		}
		if len(s.Rows) > 0 && len(out[i].Rows) == 0 {
			out[i].Refusal = onlyStill()
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

func onlyStill() Reason {
	return Reason{"no-ruler", "only a ruler that lies still in the scene can be seen; the moving one is not in the picture"}
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
// parts of them in other frames. Marks repeat, so a ruler let fall again may show them at the same places along
// its axis, but its axis then lies a little aside.
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

// loose is how far a row's axis may be turned, rad: it may leave the middle of the shortest marks by a quarter of their length at either end.
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
