package still

import (
	"leadmark/fit/note"
	"leadmark/vision/ruler"
)

// Found is what was found out of a run.
type Found struct {
	Rows []ruler.Row // of rulers that lie still, as each frame has them
	// Undecided: one ruler stands in the same place in all frames, and nothing tells whether it lies
	// still.
	Undecided bool
}

// place is where a row stands in several frames.
type place struct {
	lead ruler.Row
	rows map[int]ruler.Row // by the frame, in which it stands there from end to end
}

// Find judges every place at which a row stands in several frames.
func Find(r Run) (f Found) {
	w := watch(r)
	for k := range w.places {
		if len(w.places[k].rows) < 2 {
			continue
		}
		switch evidence, everywhere := w.evidence(k); {
		case evidence > 0:
			for _, i := range w.at {
				if row, is := w.places[k].rows[i]; is {
					f.Rows = append(f.Rows, row)
				}
			}
		case everywhere && evidence == unlikely:
			f.Undecided = true
		}
	}
	return f
}

// watched is a run with its rows sorted by where they stand.
type watched struct {
	Run
	at     []int               // the frames compared in which something could be seen
	seen   map[int][]ruler.Row // in these
	of     map[int][]int       // which place each of them is at
	places []place
}

func watch(r Run) *watched {
	w := &watched{Run: r, seen: map[int][]ruler.Row{}, of: map[int][]int{}}
	for _, i := range r.some() {
		s := r.Sighting(i)
		if len(s.Rows) == 0 && s.Refusal.Code != "no-ruler" {
			continue // too dark, or no picture: it could show nothing
		}
		w.at, w.seen[i] = append(w.at, i), s.Rows
		for _, row := range s.Rows {
			w.of[i] = append(w.of[i], w.placed(i, row))
		}
	}
	return w
}

// placed finds the place that a row of a frame stands at.
func (w *watched) placed(i int, row ruler.Row) int {
	for k, p := range w.places {
		if _, taken := p.rows[i]; !taken && identical(row, p.lead) {
			p.rows[i] = row
			return k
		}
	}
	w.places = append(w.places, place{row, map[int]ruler.Row{i: row}})
	return len(w.places) - 1
}

// evidence is how much likelier the frames are if the ruler at place k lies still than if it moves,
// as a logarithm; everywhere says whether no frame lacks it.
func (w *watched) evidence(k int) (sum float64, everywhere bool) {
	p, usual := w.places[k], w.usual(k)
	everywhere = true
	moving := 0.0 // what it tells that the one that moves is seen beside it, or is not
	for _, i := range w.at {
		_, stands := p.rows[i]
		switch {
		case stands:
			if otherwise(w.Frames[usual], w.Frames[i]) {
				sum += agrees
			}
			if w.besides(k, i) {
				moving += agrees
			} else {
				moving += misses
			}
		case w.searched(p.lead, w.seen[i]) && !isAmong(p.lead, w.seen[i]):
			sum += misses
			everywhere = false
		}
	}
	return sum + max(moving, unlikely), everywhere
}

// usual is a frame in which that was done which was done in most of those that show place k.
func (w *watched) usual(k int) (frame int) {
	most := -1
	for _, i := range w.at {
		if _, stands := w.places[k].rows[i]; !stands {
			continue
		}
		alike := 0
		for j := range w.places[k].rows {
			if !otherwise(w.Frames[i], w.Frames[j]) {
				alike++
			}
		}
		if alike > most {
			frame, most = i, alike
		}
	}
	return frame
}

// besides says whether another ruler is seen beside place k in frame i that most of the frames with
// the one do not show there: it moves against it.
func (w *watched) besides(k, i int) bool {
	for n, q := range w.seen[i] {
		if w.of[i][n] == k {
			continue
		}
		there := 0
		for j := range w.places[k].rows {
			if isAmong(q, w.seen[j]) {
				there++
			}
		}
		if 2*there <= len(w.places[k].rows) {
			return true
		}
	}
	return false
}

// Without returns a sighting without rows that may be the same as some that lie still.
func Without(s ruler.Sighting, lying []ruler.Row) ruler.Sighting {
	rows := s.Rows
	s.Rows = nil
	for _, row := range rows {
		if !isAmong(row, lying) {
			s.Rows = append(s.Rows, row)
		}
	}
	if len(rows) > 0 && len(s.Rows) == 0 {
		s.Refusal = note.Of("no-ruler", "still")
	}
	return s
}

func isAmong(row ruler.Row, rows []ruler.Row) bool {
	for _, r := range rows {
		if sameRow(row, r) {
			return true
		}
	}
	return false
}
