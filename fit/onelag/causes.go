package onelag

import (
	"math"
	"sort"

	"leadmark/fit/note"
)

func (s Run) orderCheck(c clock) Check {
	e, ok := s.effects([][]float64{c.order})
	if !ok {
		return untested(note.Of("order", "with-settings"))
	}
	return e.check(note.New("order", e.Size, e.SizeU))
}

func (s Run) pauseCheck(c clock) Check {
	if !c.timed {
		return untested(note.Of("pause", "no-times"))
	}
	after, rest := make([]float64, len(c.gap)), 0
	count := 0
	for i, g := range c.gap {
		if math.IsNaN(g) || g > c.pause {
			after[i] = 1
		}
		if s.Weight[i] > 0 && after[i] > 0 {
			count++
		} else if s.Weight[i] > 0 {
			rest++
		}
	}
	if count < 2 || rest < 3 {
		return untested(note.Of("pause", "few", c.pause))
	}
	e, ok := s.effects([][]float64{after})
	if !ok {
		return untested(note.Of("pause", "with-settings"))
	}
	return e.check(note.New("pause", e.Size, e.SizeU))
}

func (s Run) restCheck(c clock) Check {
	if !c.timed {
		return untested(note.Of("rest", "no-times"))
	}
	w, sum, n := make([]float64, len(c.gap)), 0.0, 0.0
	for i, g := range c.gap {
		if w[i] = math.Log2(math.Max(g, 0.1)); !math.IsNaN(w[i]) && s.Weight[i] > 0 {
			sum, n = sum+w[i], n+1
		}
	}
	scatter := 0.0
	for i := range w {
		if w[i] -= sum / n; math.IsNaN(w[i]) {
			w[i] = 0 // the first shot has no shot before it
		}
		if s.Weight[i] > 0 {
			scatter += w[i] * w[i] / n
		}
	}
	if n < 3 || !(scatter > 0.05) {
		return untested(note.Of("rest", "alike"))
	}
	e, ok := s.effects([][]float64{w})
	if !ok {
		return untested(note.Of("rest", "with-settings"))
	}
	return e.check(note.New("rest", e.Size, e.SizeU))
}

func (s Run) settingCheck() Check {
	count := map[string]int{}
	for i, shot := range s.Shots {
		if s.Weight[i] > 0 {
			count[shot.Setting]++
		}
	}
	if len(count) < 2 {
		return untested(note.Of("setting", "alike"))
	}
	var labels []string
	for label, n := range count {
		if n >= 2 {
			labels = append(labels, label)
		}
	}
	sort.Strings(labels)
	if len(labels) < 2 || len(labels) > len(s.R)/3 {
		return untested(note.Of("setting", "few"))
	}
	var cols [][]float64
	for _, label := range labels[1:] {
		w := make([]float64, len(s.R))
		for i, shot := range s.Shots {
			if shot.Setting == label {
				w[i] = 1
			}
		}
		cols = append(cols, w)
	}
	e, ok := s.effects(cols)
	if !ok {
		return untested(note.Of("setting", "with-settings"))
	}
	if len(cols) == 1 {
		return e.check(note.Of("setting", "two", labels[1], e.Size, labels[0], e.SizeU))
	}
	return e.check(note.New("setting"))
}
